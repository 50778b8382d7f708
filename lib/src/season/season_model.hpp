#pragma once
#include <leastwise/season.hpp>

#include <cstddef>
#include <optional>
#include <span>
#include <string_view>
#include <utility>
#include <vector>

#include "model/amount.hpp"
#include "model/join.hpp"
#include "model/model_edit.hpp"
#include "solver/search.hpp"

namespace leastwise::season {

/// The linear program of some blends of a season: a block for each, a row for each shared limit.
/// It minimises cost less revenue; storage counts as what later use costs more.
class SeasonModel {
 public:
  /// `limits` run along `season.shared()`. Both must outlive the model.
  SeasonModel(const Season& season, std::vector<std::size_t> blends, std::vector<Limits> limits);

  [[nodiscard]] const model::Joined& joined() const { return joined_; }
  [[nodiscard]] const model::Model& model() const { return joined_.model; }
  [[nodiscard]] std::size_t size() const { return blends_.size(); }
  /// The blend of block `b`: into `season.blends()`.
  [[nodiscard]] std::size_t blend(std::size_t b) const { return blends_[b]; }
  [[nodiscard]] const model::Amounted& block(std::size_t b) const { return parts_[b]; }

  /// Tonnes or hectares of block `b`.
  [[nodiscard]] double amount(std::size_t b, const std::vector<double>& x) const;
  /// kg of each material of the scenario per tonne or hectare; `amount(b, x)` must be above 0.
  [[nodiscard]] std::vector<double> kg(std::size_t b, const std::vector<double>& x) const;
  /// kg that come from source `y` of goods `g`, `season.goods()[g].sources[y]`.
  [[nodiscard]] double kg_from(std::size_t g, std::size_t y, const std::vector<double>& x) const {
    return x[static_cast<std::size_t>(from_yard_[g][y])];
  }
  /// The goods whose lot is minimum `k` of the model; nothing where it is one of a blend.
  [[nodiscard]] std::optional<std::size_t> goods_of_minimum(std::size_t k) const;
  /// The rule on the amount of block `b`, where it is given exactly; -1 where it is not.
  [[nodiscard]] int exact_amount_rule(std::size_t b) const;

 private:
  [[nodiscard]] double at(std::size_t b, int column, const std::vector<double>& x) const {
    return x[static_cast<std::size_t>(joined_.blocks[b].column + column)];
  }
  void price(std::size_t b);
  [[nodiscard]] int column_of(std::size_t b, std::string_view material) const;
  [[nodiscard]] std::vector<model::Entry> taken_of(std::string_view material,
                                                   const std::vector<std::size_t>& blends) const;
  void add_goods(model::ModelEdit& edit, const SeasonGoods& goods);
  [[nodiscard]] int add_source(model::ModelEdit& edit, const SeasonSource& source, double best);
  void add_run(model::ModelEdit& edit, const SeasonRun& run);

  const Season& season_;
  std::vector<std::size_t> blends_;
  std::vector<model::Amounted> parts_{};
  model::Joined joined_{};
  std::vector<std::vector<int>> from_yard_{};  ///< columns, along the sources of the goods
  std::vector<std::pair<std::size_t, std::size_t>> lots_{};  ///< minimum and goods
};

/// What a tonne of a material costs to keep from the end of a period to the end of the last but
/// one: keeping it is paid for whatever is used in the last period.
[[nodiscard]] double storage_from(const Season& season, std::string_view material,
                                  std::size_t period);

/// The limits as the season states them.
[[nodiscard]] std::vector<Limits> stated_limits(const Season& season);

}  // namespace leastwise::season
