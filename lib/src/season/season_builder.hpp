#pragma once
#include <leastwise/season.hpp>

#include <map>
#include <optional>
#include <string>
#include <string_view>

#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// Checks a season draft, collects everything that is wrong with it, and resolves it to a Season.
class SeasonBuilder {
 public:
  /// `reading` is what the reader of a text found already; empty for a draft made in code.
  SeasonBuilder(SeasonDraft draft, Reading reading);

  SeasonBuilder(const SeasonBuilder&) = delete;
  SeasonBuilder& operator=(const SeasonBuilder&) = delete;
  ~SeasonBuilder() = default;

  /// Throws: InputError when there is any error, the reader's included.
  [[nodiscard]] Season build() &&;

 private:
  void check_periods();
  void resolve_blends();
  void resolve(const SeasonBlendDraft& draft);
  [[nodiscard]] std::optional<Limits> amount_of(const SeasonBlendDraft& draft,
                                                const std::string& path);
  [[nodiscard]] std::optional<Limits> hectares_of(const SeasonBlendDraft& draft,
                                                  const std::string& path);
  [[nodiscard]] std::optional<Limits> tonnes_of(const SeasonBlendDraft& draft,
                                                const std::string& path);
  void check_sale(const SeasonBlendDraft& draft, const std::string& path);
  [[nodiscard]] std::optional<std::size_t> period_named(const std::string& name,
                                                        const std::string& path);
  void check_alike();
  void resolve_stock();
  void resolve_supply();
  void resolve_storage();
  void resolve_shared();
  void resolve_purchases();
  void resolve_yards();
  void resolve_yard(const SeasonYardDraft& yard, const std::string& path);
  void resolve_runs();
  void resolve(const SeasonRunDraft& run, const std::string& path,
               std::map<std::string, std::string>& made);
  void price_goods();
  [[nodiscard]] SeasonGoods& goods_of(const std::string& material, const std::string& path);
  void check_buys_at_one_price(const SeasonBlendDraft& draft, const std::string& path);
  bool check_material(const std::string& material, const std::string& path);
  void check_one_material(const std::string& material, const std::string& path);
  bool check_once(std::map<std::string, std::string>& seen, const std::string& name,
                  const std::string& path, std::string_view what);
  [[nodiscard]] Place place_of(const std::string& path) const;

  /// What there is of a material, and what must be taken.
  struct Yard {
    std::string path{};
    Limits kg{};                    ///< at the beginning
    std::vector<double> arrives{};  ///< by period
    bool limited = false;           ///< only so much is there
  };
  Yard& yard_of(const std::string& material, const std::string& path);
  [[nodiscard]] std::vector<double> there_by_period(const Yard& yard) const;

  SeasonDraft draft_;
  ScenarioDraft text_;  ///< carries the places and lines for messages
  DiagnosticSink diagnostics_;
  Checks checks_;
  std::vector<std::string> order_{};  ///< of the materials in the yard
  std::map<std::string, Yard> yard_{};
  Season season_{};
};

}  // namespace leastwise
