#include "trial/purchases.hpp"

#include <algorithm>
#include <cmath>

#include "trial/mass.hpp"

namespace leastwise::trial {
namespace {

double price_of(const Scenario& scenario, const Weighing& weighing) {
  if (weighing.role == Role::binder) return scenario.binder().price_per_t;
  const Material& material = scenario.materials()[*scenario.index_of(weighing.material)];
  return material.price_per_t + material.freight_per_t;
}

Purchase& line_for(std::vector<Purchase>& purchases, const std::string& material, double price) {
  const auto found = std::find_if(purchases.begin(), purchases.end(), [&](const Purchase& p) {
    return p.material == material && p.price_per_t == price;
  });
  if (found != purchases.end()) return *found;
  Purchase purchase;
  purchase.material = material;
  purchase.price_per_t = price;
  purchases.push_back(std::move(purchase));
  return purchases.back();
}

void complete(const Trial& trial, Purchase& purchase) {
  const double needed_kg = static_cast<double>(purchase.need_mg + purchase.spare_mg) / mg_per_kg;
  purchase.bag_kg = trial.bag_kg(purchase.material);
  purchase.bought_kg = needed_kg;
  if (purchase.bag_kg) {
    purchase.bags = static_cast<std::int64_t>(std::ceil(needed_kg / *purchase.bag_kg - 1e-9));
    purchase.bought_kg = static_cast<double>(purchase.bags) * *purchase.bag_kg;
  }
  purchase.left_over_kg = std::max(0.0, purchase.bought_kg - needed_kg);
  purchase.cost = purchase.bought_kg / 1000 * purchase.price_per_t;
}

}  // namespace

std::vector<Purchase> purchases_for(const Trial& trial,
                                    const std::vector<TreatmentPlan>& treatments) {
  std::vector<Purchase> purchases;
  for (std::size_t t = 0; t < treatments.size(); ++t) {
    const TreatmentPlan& plan = treatments[t];
    if (plan.state != TreatmentState::planned || plan.total_mg == 0) continue;
    const auto loads = static_cast<std::int64_t>(plan.batch_codes.size());
    std::vector<std::int64_t> totals;
    for (const auto& weighing : plan.weighings) totals.push_back(weighing.mass_mg * loads);
    const auto needs = apportioned(plan.packs_mg, totals);
    for (std::size_t i = 0; i < totals.size(); ++i) {
      const Weighing& weighing = plan.weighings[i];
      const std::string name =
          weighing.material.empty() ? std::string(unnamed_binder) : weighing.material;
      Purchase& line =
          line_for(purchases, name, price_of(*trial.treatments()[t].scenario, weighing));
      line.need_mg += needs[i];
      line.spare_mg += totals[i] - needs[i];
    }
  }
  for (auto& purchase : purchases) complete(trial, purchase);
  std::stable_sort(purchases.begin(), purchases.end(), [](const Purchase& a, const Purchase& b) {
    return a.need_mg + a.spare_mg > b.need_mg + b.spare_mg;
  });
  return purchases;
}

}  // namespace leastwise::trial
