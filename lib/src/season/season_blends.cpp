#include <algorithm>
#include <cmath>

#include "scenario/price_by_quantity.hpp"
#include "scenario/units.hpp"
#include "season/planner.hpp"
#include "solve/answer_parts.hpp"
#include "solve/audit.hpp"
#include "solver/certificate.hpp"

namespace leastwise::season {

namespace {

/// Less than this of a blend, in tonnes or hectares, is what rounding leaves of none.
constexpr double least_amount = 1e-9;

bool holds(double value, const Limits& limits) {
  const auto slack = [](double limit) {
    return solver::certificate_tolerance * std::max(1.0, std::fabs(limit));
  };
  return (!limits.has_min() || value >= limits.min - slack(limits.min)) &&
         (!limits.has_max() || value <= limits.max + slack(limits.max));
}

}  // namespace

double kg_of_material(const SeasonBlend& blend, const MadeBlend& made,
                      const std::string& material) {
  if (!made.blend) return 0;
  const auto& portions = made.blend->portions;
  const auto found = std::ranges::find(portions, material, &Portion::material);
  if (found == portions.end()) return 0;
  const bool by_tonne = blend.scenario.basis() == Basis::per_tonne;
  return made.amount * (by_tonne ? found->kg_per_t : found->kg_per_ha.value_or(0));
}

std::vector<double> shared_use(const Season& season, const std::vector<MadeBlend>& made,
                               const std::vector<std::vector<double>>& from_kg) {
  std::vector<double> use;
  for (std::size_t s = 0; s < season.shared().size(); ++s) {
    const SharedLimit& limit = season.shared()[s];
    double kg = 0;
    for (std::size_t g = 0; g < from_kg.size(); ++g)
      for (std::size_t y = 0; y < from_kg[g].size(); ++y)
        if (season.goods()[g].sources[y].limit == s) kg += from_kg[g][y];
    for (std::size_t b = 0; limit.yard.empty() && b < made.size(); ++b)
      if (season.blends()[b].period <= limit.period)
        kg += kg_of_material(season.blends()[b], made[b], limit.material);
    use.push_back(kg);
  }
  return use;
}

namespace {

/// The scenario with its goods at what they cost, brought, on the average.
Scenario at_prices_paid(const SeasonBlend& blend, const std::vector<const SeasonGoods*>& goods,
                        const std::vector<double>& extra_per_t) {
  Scenario priced = blend.scenario;
  for (std::size_t g = 0; g < goods.size(); ++g)
    if (const auto i = priced.index_of(goods[g]->material); i && extra_per_t[g] != 0)
      priced = priced.with_price(goods[g]->material,
                                 priced.materials()[*i].price_per_t + extra_per_t[g]);
  return priced;
}

/// What a tonne of `goods` costs beyond the least it can, bought and brought.
double extra_of(const SeasonGoods& goods, double tonnes, const std::vector<double>& from_kg) {
  if (tonnes <= 0) return 0;
  double extra =
      goods.price_tiers.empty()
          ? 0
          : price_by_quantity(goods.price_tiers, goods.tier_price, tonnes) - goods.best_price();
  for (std::size_t y = 0; y < from_kg.size(); ++y)
    extra += from_kg[y] / kg_per_tonne / tonnes *
             (goods.sources[y].transport_per_t - goods.best_transport());
  return extra;
}

/// Whether the lot is kept and the yards bring what is taken.
bool goods_hold(const SeasonGoods& goods, double tonnes, const std::vector<double>& from_kg) {
  const double kg = tonnes * kg_per_tonne;
  if (goods.minimum_lot_t && kg > least_amount &&
      !holds(kg, {*goods.minimum_lot_t * kg_per_tonne, Limits{}.max}))
    return false;
  if (goods.sources.empty()) return true;
  double brought = 0;
  for (const double one : from_kg) {
    if (one < 0) return false;
    brought += one;
  }
  return holds(brought, {kg, kg});
}

/// Whether no run takes more bins than it has.
bool runs_hold(const Season& season, const std::vector<MadeBlend>& made) {
  return std::ranges::all_of(season.runs(), [&](const SeasonRun& run) {
    return granules_of(run, made).size() <= static_cast<std::size_t>(run.bins);
  });
}

}  // namespace

std::vector<std::string> granules_of(const SeasonRun& run, const std::vector<MadeBlend>& made) {
  std::vector<std::string> granules;
  for (const std::size_t b : run.blends) {
    if (!made[b].blend) continue;
    for (const Portion& portion : made[b].blend->portions)
      if (portion.form == Form::granule &&
          std::ranges::find(granules, portion.material) == granules.end())
        granules.push_back(portion.material);
  }
  return granules;
}

double tonnes_of_goods(const Season& season, const std::vector<MadeBlend>& made,
                       const SeasonGoods& goods) {
  double kg = 0;
  for (std::size_t b = 0; b < made.size(); ++b)
    kg += kg_of_material(season.blends()[b], made[b], goods.material);
  return kg / kg_per_tonne;
}

std::optional<MadeSeason> confirmed_blends(const Season& season, const SeasonModel& model,
                                           const std::vector<Limits>& limits,
                                           const std::vector<double>& x) {
  MadeSeason made;
  std::vector<MadeBlend> all(season.blends().size());
  std::vector<std::vector<double>> kg;
  for (std::size_t b = 0; b < model.size(); ++b) {
    const SeasonBlend& blend = season.blends()[model.blend(b)];
    MadeBlend one{model.amount(b, x), {}};
    if (!holds(one.amount, blend.amount)) return std::nullopt;
    one.amount = std::clamp(one.amount, blend.amount.min, blend.amount.max);
    kg.emplace_back();
    if (one.amount > least_amount) {
      kg.back() = model.kg(b, x);
      if (solve::audit(blend.scenario, kg.back()) > solver::certificate_tolerance)
        return std::nullopt;
      one.blend = solve::blend_of(blend.scenario, kg.back());
    } else {
      one.amount = 0;
    }
    all[model.blend(b)] = one;
    made.blends.push_back(std::move(one));
  }
  std::vector<const SeasonGoods*> goods;
  std::vector<double> extra;
  for (std::size_t g = 0; g < season.goods().size(); ++g) {
    goods.push_back(&season.goods()[g]);
    made.from_kg.emplace_back();
    for (std::size_t y = 0; y < goods[g]->sources.size(); ++y)
      made.from_kg[g].push_back(model.kg_from(g, y, x));
    const double tonnes = tonnes_of_goods(season, all, *goods[g]);
    if (!goods_hold(*goods[g], tonnes, made.from_kg[g])) return std::nullopt;
    extra.push_back(extra_of(*goods[g], tonnes, made.from_kg[g]));
  }
  const auto use = shared_use(season, all, made.from_kg);
  for (std::size_t s = 0; s < use.size(); ++s)
    if (!holds(use[s], limits[s])) return std::nullopt;
  if (!runs_hold(season, all)) return std::nullopt;
  if (std::ranges::all_of(extra, [](double more) { return more == 0; })) return made;
  for (std::size_t b = 0; b < model.size(); ++b)
    if (made.blends[b].blend)
      made.blends[b].blend =
          solve::blend_of(at_prices_paid(season.blends()[model.blend(b)], goods, extra), kg[b]);
  return made;
}

double fixed_money(const Season& season) {
  double money = 0;
  for (const auto& blend : season.blends())
    if (blend.price_per_t && blend.amount.exact()) money -= *blend.price_per_t * blend.amount.min;
  for (const auto& storage : season.storage())
    for (std::size_t p = 0; p + 1 < storage.kg.size(); ++p)
      money += storage.price_per_t * storage.kg[p] / kg_per_tonne;
  return money;
}

}  // namespace leastwise::season
