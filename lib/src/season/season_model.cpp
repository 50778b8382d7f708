#include "season/season_model.hpp"

#include <algorithm>
#include <string>
#include <utility>

#include "model/purchase.hpp"
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
    // What comes from one yard is a column of its own, which is added to the row below.
    for (std::size_t b = 0; limit.yard.empty() && b < blends_.size(); ++b) {
      if (season_.blends()[blends_[b]].period > limit.period) continue;
      if (const int column = column_of(b, limit.material); column >= 0)
        row.terms.push_back({b, {{column, 1}}});
    }
    shared.push_back(std::move(row));
  }
  std::vector<model::Model> models;
  for (const auto& part : parts_) models.push_back(part.model);
  joined_ = model::join(models, std::vector<double>(models.size(), 1.0), {}, shared);
  if (season_.goods().empty() && season_.runs().empty()) return;
  {
    model::ModelEdit edit(joined_.model);
    for (const SeasonGoods& goods : season_.goods()) add_goods(edit, goods);
    for (const SeasonRun& run : season_.runs()) add_run(edit, run);
  }
  model::refresh_bounds(joined_.model);
}

/// The column of a material in block `b`; -1 where it cannot enter.
int SeasonModel::column_of(std::size_t b, std::string_view material) const {
  const auto i = season_.blends()[blends_[b]].scenario.index_of(material);
  if (!i) return -1;
  const auto& columns = parts_[b].model.material_of;
  const auto column = std::ranges::find(columns, static_cast<int>(*i));
  return column == columns.end() ? -1 : static_cast<int>(column - columns.begin());
}

/// What those of the season's `blends` that are in the model take of a material.
std::vector<model::Entry> SeasonModel::taken_of(std::string_view material,
                                                const std::vector<std::size_t>& blends) const {
  std::vector<model::Entry> taken;
  for (std::size_t b = 0; b < blends_.size(); ++b) {
    if (std::ranges::find(blends, blends_[b]) == blends.end()) continue;
    if (const int column = column_of(b, material); column >= 0)
      taken.push_back({joined_.blocks[b].column + column, 1});
  }
  return taken;
}

/// A column for all that is bought, for each price of it, and for each yard it comes from.
void SeasonModel::add_goods(model::ModelEdit& edit, const SeasonGoods& goods) {
  auto& model = joined_.model;
  const std::size_t g = from_yard_.size();
  from_yard_.emplace_back();
  const int bought = edit.add_column(0);
  auto row = taken_of(goods.material, blends_);
  row.push_back({bought, -1});
  model.fixed_rows.push_back({edit.add_row(std::move(row), 0, 0), 0});
  if (goods.minimum_lot_t) {
    const double kg = *goods.minimum_lot_t * kg_per_tonne;
    lots_.emplace_back(model.minima.size(), g);
    model.minima.push_back({.column = bought,
                            .limit = kg,
                            .kg = kg,
                            .of = model::MinimumIfUsed::Of::lot,
                            .kg_rate = 1});
  }
  if (!goods.price_tiers.empty()) {
    model::Purchase purchase{bought, goods.tier_price == TierPrice::all};
    for (const PriceTier& tier : goods.price_tiers)
      purchase.steps.push_back(
          {tier.from_t * kg_per_tonne, (tier.price_per_t - goods.best_price()) / kg_per_tonne});
    model::add_purchase(edit, model, purchase);
  }
  if (goods.sources.empty()) return;
  std::vector<model::Entry> from{{bought, 1}};
  for (const SeasonSource& source : goods.sources) {
    from_yard_[g].push_back(add_source(edit, source, goods.best_transport()));
    from.push_back({from_yard_[g].back(), -1});
  }
  model.fixed_rows.push_back({edit.add_row(std::move(from), 0, 0), 0});
}

int SeasonModel::add_source(model::ModelEdit& edit, const SeasonSource& source, double best) {
  const int column = edit.add_column((source.transport_per_t - best) / kg_per_tonne);
  if (!source.limit) return column;
  for (std::size_t k = 0; k < joined_.shared_of.size(); ++k) {
    if (joined_.shared_of[k] != *source.limit) continue;
    edit.row(joined_.model.rules[joined_.first_shared + k].row).push_back({column, 1});
    break;  // both sides stand in one row
  }
  return column;
}

/// A column for each granular material of the run, which takes a bin when it is in use.
void SeasonModel::add_run(model::ModelEdit& edit, const SeasonRun& run) {
  auto& model = joined_.model;
  const auto first = static_cast<int>(model.families.size());
  std::vector<std::string> families;
  std::vector<std::string> materials;
  for (const std::size_t b : run.blends)
    for (const Material& material : season_.blends()[b].scenario.materials()) {
      if (material.form_used() != Form::granule ||
          std::ranges::find(materials, material.name) != materials.end())
        continue;
      materials.push_back(material.name);
      auto row = taken_of(material.name, run.blends);
      if (row.empty()) continue;
      const int column = edit.add_column(0);
      row.push_back({column, -1});
      model.fixed_rows.push_back({edit.add_row(std::move(row), 0, 0), 0});
      auto family = std::ranges::find(families, material.family);
      if (family == families.end()) {
        family = families.insert(family, material.family);
        model.families.emplace_back();
      }
      const int number = first + static_cast<int>(family - families.begin());
      model.families[static_cast<std::size_t>(number)].push_back(column);
      model.family_of[static_cast<std::size_t>(column)] = number;
      model.is_granule[static_cast<std::size_t>(column)] = 1;
    }
  model.joined_bins.push_back({run.bins, first, static_cast<int>(model.families.size())});
}

std::optional<std::size_t> SeasonModel::goods_of_minimum(std::size_t k) const {
  for (const auto& [minimum, goods] : lots_)
    if (minimum == k) return goods;
  return std::nullopt;
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
