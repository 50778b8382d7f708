#pragma once
#include <leastwise/scenario.hpp>

#include <functional>
#include <list>
#include <map>
#include <set>
#include <stop_token>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "scenario/checks.hpp"
#include "scenario/correlation.hpp"
#include "scenario/diagnostic_sink.hpp"
#include "scenario/family_checks.hpp"

namespace leastwise {

/// Checks a draft, collects everything that is wrong with it, and resolves it to a Scenario.
class ScenarioBuilder {
 public:
  /// `reading` is what the reader of a text found already; empty for a draft made in code. What a
  /// material is by nature is taken from `like`, a scenario before a change, where it has the same.
  ScenarioBuilder(ScenarioDraft draft, Reading reading, std::stop_token stop = {},
                  const Scenario* like = nullptr);

  ScenarioBuilder(const ScenarioBuilder&) = delete;
  ScenarioBuilder& operator=(const ScenarioBuilder&) = delete;
  ~ScenarioBuilder() = default;

  /// Throws: InputError when there is any error, the reader's included; LoadStopped.
  [[nodiscard]] Scenario build() &&;

 private:
  void tell_natures();

  // materials.cpp
  void index_prices();
  void resolve_materials();
  [[nodiscard]] std::vector<const MaterialDraft*> drafts_in_play();
  void add_used(std::size_t position, std::vector<const MaterialDraft*>& in_play);
  [[nodiscard]] Material resolve(const MaterialDraft& draft, const std::string& path);
  void resolve_price(const MaterialDraft& draft, const std::string& path, Material& material);
  void remark_on_unknown_prices();

  // purchase_checks.cpp
  void resolve_purchase(const std::string& path, const std::vector<PriceTierDraft>& tiers,
                        const std::optional<double>& lot_t, Material& material);
  void check_purchases();

  [[nodiscard]] static std::string path_of(const MaterialDraft& draft);

  // targets.cpp
  void resolve_basis();
  void resolve_targets();
  [[nodiscard]] std::vector<Target> resolve(const std::vector<TargetDraft>& drafts,
                                            std::string_view list, bool is_rate);
  void resolve_ratios();
  [[nodiscard]] bool contained(const std::string& name) const;
  /// Whether a mistake at `path` leaves in doubt what the materials contain.
  [[nodiscard]] bool hides_contents(std::string_view path) const;
  void check_contained(const std::string& name, const std::string& path, std::string_view rule,
                       const Limits& limits);
  void check_something_is_asked();
  [[nodiscard]] bool check_sum(const std::string& path, const std::string& name);
  [[nodiscard]] bool check_is_mass(const std::string& path, const std::string& name,
                                   std::string_view what);

  // handling.cpp
  void resolve_sizes();
  void resolve_dryness();
  void keep_dry_pairs_apart();
  void keep_dry_pair_apart(const std::string& a, const std::string& b,
                           std::vector<std::string>& unknown);

  // published_limits.cpp
  void take_published_figures();
  void check_published_figures();
  void remark_on_traces();
  [[nodiscard]] const Target* target_of(std::string_view name) const;
  [[nodiscard]] bool stays_unasked(const Material& material) const;

  // robust_targets.cpp
  void resolve_confidence(const TargetDraft& draft, Target& target);
  void resolve_tolerance(const TargetDraft& draft, bool is_rate, Target& target);
  void resolve_margins();
  void remark_on_tolerances();

  // risk_checks.cpp
  void check_risk();
  void check_spread(const PriceSpread& spread, const std::string& path);
  void check_correlations();
  [[nodiscard]] bool check_correlation(std::size_t k);
  void blame_pair(const std::vector<std::vector<double>>& matrix, const CorrelationRoot& found);
  void check_history();
  [[nodiscard]] bool names_material(const std::string& name, const std::string& path,
                                    std::string_view what);

  // blend_settings.cpp
  void resolve_blend_settings();
  void resolve_total();
  void resolve_binder();
  void resolve_factors();
  void check_high_rates();
  void check_high_grades();
  void resolve_make();
  void check_cost_is_bounded();
  void resolve_costs();

  // families.cpp
  void resolve_compatibility();
  void check_absent_pair(const FamilyPair& pair, Compatibility level, const std::string& path);
  void lift_rule(const FamilyPair& pair, const FamilyRule& known, Compatibility level,
                 const std::string& path);

  // binder_checks.cpp
  void check_binder_statement();
  void check_binder_on(const std::vector<std::string>& oxidizers);
  void remark_on_binder_reactions();

  // fire.cpp
  void check_fire();
  void check_refused();
  void check_families_are_true();
  void check_clashes_within_families();
  void check_members(const std::vector<std::size_t>& list);
  [[nodiscard]] bool check_kept_apart(const Material& first, const Nature& of_first,
                                      const Material& second, const Nature& of_second);
  void check_unknown_beside();
  void remark_on_stated_natures(const std::vector<std::string>& oxidizers);
  [[nodiscard]] std::string place_of_material(const Material& material) const;

  // quote_checks.cpp
  void check_quote();
  void check_quote_dates(const QuoteTerms& terms);
  void check_margins(const QuoteTerms& terms);
  void check_declaration();

  // reported.cpp
  void resolve_reported();
  [[nodiscard]] std::vector<std::string> names_to_report() const;
  [[nodiscard]] std::vector<double> contents_of(std::string_view name) const;
  [[nodiscard]] std::vector<double> availability_of(std::string_view name) const;

  // unasked.cpp
  [[nodiscard]] std::set<std::string, std::less<>> asked_elements() const;
  [[nodiscard]] bool asks_for_share(const Material& material) const;
  [[nodiscard]] bool has_maximum(std::string_view element) const;
  void resolve_unasked();
  void resolve_ceilings(const std::set<std::string, std::less<>>& asked);

  // remarks.cpp
  void add_remarks();
  void remark_on_binder();
  void remark_on_case();
  void remark_on_families();
  void remark_on_fractions();
  void remark_on_price_sizes();

  void add_note(NoteLevel level, NoteCode code, std::vector<std::string> subjects, std::string text,
                std::string source = {});

  Scenario scenario_;
  const ScenarioDraft& draft_;  ///< the scenario's own copy
  DiagnosticSink diagnostics_;
  Checks checks_;
  std::vector<Nature> natures_{};  ///< along the scenario's materials
  std::map<std::string, const PriceDraft*, std::less<>> prices_{};
  std::map<std::string, const MaterialDraft*, std::less<>> drafts_{};
  std::map<std::string_view, std::size_t> used_{};  ///< names under `use`, with their positions
  std::list<MaterialDraft> used_built_ins_{};       ///< named under `use` only; addresses stay
  /// Materials whose price or lot is of all that is bought, with the place that says so.
  std::vector<std::pair<std::string, std::string>> bought_{};
  std::stop_token stop_;
  const Scenario* like_;
};

}  // namespace leastwise
