#include <algorithm>
#include <cmath>

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

std::vector<double> shared_use(const Season& season, const std::vector<MadeBlend>& made) {
  std::vector<double> use;
  for (const auto& limit : season.shared()) {
    double kg = 0;
    for (std::size_t b = 0; b < made.size(); ++b)
      if (season.blends()[b].period <= limit.period)
        kg += kg_of_material(season.blends()[b], made[b], limit.material);
    use.push_back(kg);
  }
  return use;
}

std::optional<std::vector<MadeBlend>> confirmed_blends(const Season& season,
                                                       const SeasonModel& model,
                                                       const std::vector<Limits>& limits,
                                                       const std::vector<double>& x) {
  std::vector<MadeBlend> blends;
  std::vector<MadeBlend> all(season.blends().size());
  for (std::size_t b = 0; b < model.size(); ++b) {
    const SeasonBlend& blend = season.blends()[model.blend(b)];
    MadeBlend made{model.amount(b, x), {}};
    if (!holds(made.amount, blend.amount)) return std::nullopt;
    made.amount = std::clamp(made.amount, blend.amount.min, blend.amount.max);
    if (made.amount > least_amount) {
      const auto kg = model.kg(b, x);
      if (solve::audit(blend.scenario, kg) > solver::certificate_tolerance) return std::nullopt;
      made.blend = solve::blend_of(blend.scenario, kg);
    } else {
      made.amount = 0;
    }
    all[model.blend(b)] = made;
    blends.push_back(std::move(made));
  }
  const auto use = shared_use(season, all);
  for (std::size_t s = 0; s < use.size(); ++s)
    if (!holds(use[s], limits[s])) return std::nullopt;
  return blends;
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
