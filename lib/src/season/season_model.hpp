#pragma once
#include <leastwise/season.hpp>

#include <cstddef>
#include <span>
#include <vector>

#include "model/amount.hpp"
#include "model/join.hpp"
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
  /// The rule on the amount of block `b`, where it is given exactly; -1 where it is not.
  [[nodiscard]] int exact_amount_rule(std::size_t b) const;

 private:
  [[nodiscard]] double at(std::size_t b, int column, const std::vector<double>& x) const {
    return x[static_cast<std::size_t>(joined_.blocks[b].column + column)];
  }
  void price(std::size_t b);

  const Season& season_;
  std::vector<std::size_t> blends_;
  std::vector<model::Amounted> parts_{};
  model::Joined joined_{};
};

/// What a tonne of a material costs to keep from the end of a period to the end of the last but
/// one: keeping it is paid for whatever is used in the last period.
[[nodiscard]] double storage_from(const Season& season, std::string_view material,
                                  std::size_t period);

/// The limits as the season states them.
[[nodiscard]] std::vector<Limits> stated_limits(const Season& season);

}  // namespace leastwise::season
