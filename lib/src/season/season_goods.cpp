#include <algorithm>

#include "scenario/units.hpp"
#include "season/planner.hpp"
#include "solve/blend_purchases.hpp"

namespace leastwise::season {
namespace {

/// The goods as the material of a scenario that makes one tonne of it.
Material material_of(const SeasonGoods& goods) {
  Material material;
  material.name = goods.material;
  material.price_tiers = goods.price_tiers;
  material.tier_price = goods.tier_price;
  material.minimum_lot_t = goods.minimum_lot_t;
  if (!goods.price_tiers.empty()) material.price_per_t = goods.price_tiers.front().price_per_t;
  return material;
}

/// The price of goods without tiers, which each scenario may have its own of: the average.
double stated_price(const Season& season, const std::vector<MadeBlend>& made,
                    const SeasonGoods& goods) {
  double kg = 0;
  double money = 0;
  for (std::size_t b = 0; b < made.size(); ++b) {
    const SeasonBlend& blend = season.blends()[b];
    const auto i = blend.scenario.index_of(goods.material);
    if (!i) continue;
    const double taken = kg_of_material(blend, made[b], goods.material);
    kg += taken;
    money += taken * (blend.scenario.materials()[*i].price_per_t - goods.best_transport());
  }
  return kg > 0 ? money / kg : 0;
}

}  // namespace

void add_goods(const Season& season, const std::vector<MadeBlend>& made,
               const std::vector<std::vector<double>>& from_kg, SeasonPlan& plan) {
  for (std::size_t g = 0; g < season.goods().size(); ++g) {
    const SeasonGoods& goods = season.goods()[g];
    Material material = material_of(goods);
    const double tonnes = tonnes_of_goods(season, made, goods);
    if (tonnes > 0 && solve::is_bought_by_quantity(material)) {
      if (goods.price_tiers.empty()) material.price_per_t = stated_price(season, made, goods);
      plan.by_quantity.push_back(solve::purchase_of(material, tonnes));
    }
    for (std::size_t y = 0; y < from_kg[g].size(); ++y) {
      const double kg = from_kg[g][y];
      const SeasonSource& source = goods.sources[y];
      if (kg > 0)
        plan.transport.push_back(
            {source.yard, goods.material, kg, kg / kg_per_tonne * source.transport_per_t});
    }
  }
  for (const SeasonRun& run : season.runs())
    plan.runs.push_back({run.name, run.bins, granules_of(run, made), {}});
}

void add_bins_worth(const SeasonModel& model, double cost, const solver::SearchOptions& search,
                    SeasonPlan& plan) {
  for (std::size_t r = 0; r < plan.runs.size(); ++r) {
    SeasonRunPlan& run = plan.runs[r];
    if (run.materials.size() < static_cast<std::size_t>(run.bins)) continue;
    auto roomier = model.model();
    ++roomier.joined_bins[r].most;
    const auto found = solver::search(roomier, search);
    if (found.status == solver::SearchStatus::optimal)
      run.saved_by_one_more = std::max(0.0, cost - found.cost);
  }
}

}  // namespace leastwise::season
