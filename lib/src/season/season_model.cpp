#include "season/season_model.hpp"

#include <algorithm>
#include <utility>

#include "scenario/units.hpp"

namespace leastwise::season {

SeasonModel::SeasonModel(const Season& season, std::vector<std::size_t> blends,
                         std::vector<Limits> limits)
    : season_(season), blends_(std::move(blends)) {
  for (std::size_t b = 0; b < blends_.size(); ++b) {
    const SeasonBlend& blend = season_.blends()[blends_[b]];
    parts_.push_back(model::for_amount(model::build(blend.scenario), blend.amount));
    price(b);
  }
  std::vector<model::Shared> shared;
  for (std::size_t s = 0; s < limits.size(); ++s) {
    const SharedLimit& limit = season_.shared()[s];
    model::Shared row{{}, limits[s]};
    for (std::size_t b = 0; b < blends_.size(); ++b) {
      const SeasonBlend& blend = season_.blends()[blends_[b]];
      const auto material = blend.scenario.index_of(limit.material);
      if (!material || blend.period > limit.period) continue;
      const auto& columns = parts_[b].model.material_of;
      const auto column = std::ranges::find(columns, static_cast<int>(*material));
      if (column != columns.end())
        row.terms.push_back({b, {{static_cast<int>(column - columns.begin()), 1}}});
    }
    shared.push_back(std::move(row));
  }
  std::vector<model::Model> models;
  for (const auto& part : parts_) models.push_back(part.model);
  joined_ = model::join(models, std::vector<double>(models.size(), 1.0), {}, shared);
}

/// What is sold brings money; what is used early need not be kept.
void SeasonModel::price(std::size_t b) {
  const SeasonBlend& blend = season_.blends()[blends_[b]];
  auto& part = parts_[b];
  if (blend.price_per_t && !blend.amount.exact())
    part.model.cost[static_cast<std::size_t>(part.amount_column)] -=
        *blend.price_per_t / kg_per_tonne;
  for (std::size_t j = 0; j < part.model.material_of.size(); ++j) {
    if (part.model.material_of[j] < 0) continue;
    const auto i = static_cast<std::size_t>(part.model.material_of[j]);
    part.model.cost[j] -=
        storage_from(season_, blend.scenario.materials()[i].name, blend.period) / kg_per_tonne;
  }
}

double SeasonModel::amount(std::size_t b, const std::vector<double>& x) const {
  return at(b, parts_[b].amount_column, x) / parts_[b].per_unit;
}

std::vector<double> SeasonModel::kg(std::size_t b, const std::vector<double>& x) const {
  const Scenario& scenario = season_.blends()[blends_[b]].scenario;
  std::vector<double> kg(scenario.materials().size(), 0.0);
  const auto& columns = parts_[b].model.material_of;
  const double units = amount(b, x);
  for (std::size_t j = 0; j < columns.size(); ++j)
    if (columns[j] >= 0)
      kg[static_cast<std::size_t>(columns[j])] = at(b, static_cast<int>(j), x) / units;
  return kg;
}

int SeasonModel::exact_amount_rule(std::size_t b) const {
  const auto& part = parts_[b];
  if (part.model.rules[part.first_amount_rule].side != RuleSide::exactly) return -1;
  return static_cast<int>(joined_.blocks[b].rule + part.first_amount_rule);
}

double storage_from(const Season& season, std::string_view material, std::size_t period) {
  const auto found = std::ranges::find(season.storage(), material, &StorageCost::material);
  if (found == season.storage().end()) return 0;
  return found->price_per_t * static_cast<double>(season.periods().size() - 1 - period);
}

std::vector<Limits> stated_limits(const Season& season) {
  std::vector<Limits> limits;
  for (const auto& shared : season.shared()) limits.push_back(shared.kg);
  return limits;
}

}  // namespace leastwise::season
