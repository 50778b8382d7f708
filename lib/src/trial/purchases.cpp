#include "trial/purchases.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <string>

#include "trial/mass.hpp"
#include "trial/stock_mix.hpp"

namespace leastwise::trial {
namespace {

/// What all loads of a treatment hold of one material.
struct Amount {
  std::string material{};
  double price_per_t = 0;
  std::int64_t mg = 0;
};

double price_of(const Scenario& scenario, const std::string& material) {
  const auto i = scenario.index_of(material);
  return i ? scenario.materials()[*i].price_per_t + scenario.materials()[*i].freight_per_t : 0;
}

/// The rows of a treatment, its mixes taken apart.
std::vector<Amount> amounts_of(const Scenario& scenario, const TreatmentPlan& plan,
                               const std::vector<StockMix>& mixes) {
  const auto loads = static_cast<std::int64_t>(plan.batch_codes.size());
  std::vector<Amount> amounts;
  for (const auto& weighing : plan.weighings) {
    const std::int64_t mg = weighing.mass_mg * loads;
    if (weighing.role == Role::binder) {
      const bool named = !weighing.material.empty();
      amounts.push_back({named ? weighing.material : std::string(unnamed_binder),
                         scenario.binder().price_per_t, mg});
    } else if (weighing.mix) {
      const StockMix& mix = mixes[*weighing.mix];
      const auto parts = parts_of_mix(mix, mg);
      for (std::size_t p = 0; p < parts.size(); ++p)
        amounts.push_back(
            {mix.parts[p].material, price_of(scenario, mix.parts[p].material), parts[p]});
    } else {
      amounts.push_back({weighing.material, price_of(scenario, weighing.material), mg});
    }
  }
  return amounts;
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

/// What the solutions on the plots hold, but for the water.
void add_sprayed_on(const Scenario& scenario, const TreatmentPlan& plan,
                    const std::vector<StockMix>& mixes, std::vector<Purchase>& purchases) {
  for (const auto& spray : plan.sprays) {
    const auto parts = parts_of_mix(mixes[*spray.mix], spray.plots_mg);
    line_for(purchases, spray.material, price_of(scenario, spray.material)).need_mg +=
        parts.front();
  }
}

/// What the mixes leave over is bought with what they give.
void add_rests(const std::vector<StockMix>& mixes, std::vector<Purchase>& purchases) {
  for (const auto& mix : mixes) {
    for (const auto& part : mix.parts) {
      if (mix.solution && part.carrier) continue;  // water
      const auto line = std::ranges::find(purchases, part.material, &Purchase::material);
      if (line != purchases.end()) line->mix_rest_mg += part.weighed_mg - part.used_mg;
    }
  }
}

/// `stock_kg` is what is at hand of the material, less what other lines have taken of it.
void complete(const Trial& trial, double& stock_kg, Purchase& purchase) {
  const double needed_kg =
      static_cast<double>(purchase.need_mg + purchase.spare_mg + purchase.mix_rest_mg) / mg_per_kg;
  purchase.stock_kg = stock_kg;
  purchase.from_stock_kg = std::min(stock_kg, needed_kg);
  stock_kg -= purchase.from_stock_kg;
  const double missing_kg = needed_kg - purchase.from_stock_kg;
  if (purchase.material != unnamed_carrier) purchase.bag_kg = trial.bag_kg(purchase.material);
  purchase.bought_kg = missing_kg;
  if (purchase.bag_kg) {
    purchase.bags = static_cast<std::int64_t>(std::ceil(missing_kg / *purchase.bag_kg - 1e-9));
    purchase.bought_kg = static_cast<double>(purchase.bags) * *purchase.bag_kg;
  }
  purchase.left_over_kg = std::max(0.0, purchase.bought_kg - missing_kg);
  purchase.cost = purchase.bought_kg / 1000 * purchase.price_per_t;
}

}  // namespace

std::vector<Purchase> purchases_for(const Trial& trial, const TrialPlan& plan) {
  std::vector<Purchase> purchases;
  for (std::size_t t = 0; t < plan.treatments.size(); ++t) {
    const TreatmentPlan& treatment = plan.treatments[t];
    if (treatment.state != TreatmentState::planned || treatment.total_mg == 0) continue;
    const auto amounts = amounts_of(*trial.treatments()[t].scenario, treatment, plan.mixes);
    std::vector<std::int64_t> totals;
    for (const auto& amount : amounts) totals.push_back(amount.mg);
    const auto needs = apportioned(treatment.packs_mg, totals);
    add_sprayed_on(*trial.treatments()[t].scenario, treatment, plan.mixes, purchases);
    for (std::size_t i = 0; i < amounts.size(); ++i) {
      Purchase& line = line_for(purchases, amounts[i].material, amounts[i].price_per_t);
      line.need_mg += needs[i];
      line.spare_mg += totals[i] - needs[i];
    }
  }
  add_rests(plan.mixes, purchases);
  std::map<std::string, double> stock;
  for (auto& purchase : purchases) {
    const auto left = stock.emplace(purchase.material, trial.stock_kg(purchase.material)).first;
    complete(trial, left->second, purchase);
  }
  std::ranges::stable_sort(purchases, [](const Purchase& a, const Purchase& b) {
    return a.need_mg + a.spare_mg > b.need_mg + b.spare_mg;
  });
  return purchases;
}

}  // namespace leastwise::trial
