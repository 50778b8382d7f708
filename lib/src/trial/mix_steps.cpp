#include "trial/mix_steps.hpp"

#include <algorithm>
#include <cmath>

#include "trial/balances.hpp"
#include "trial/mass.hpp"
#include "trial/remedies.hpp"

namespace leastwise::trial {
namespace {

constexpr int most_parts = 10;
/// The ratio of two powders in a mix is off by no more than this where a slightly larger mix
/// brings that about.
constexpr double good_ratio = 0.0025;

std::int64_t up_to_digit(double mg, std::int64_t digit_mg) {
  return static_cast<std::int64_t>(std::ceil(mg / static_cast<double>(digit_mg) - 1e-9)) * digit_mg;
}

double sum_of(const std::vector<MixIngredient>& ingredients) {
  double sum = 0;
  for (const auto& ingredient : ingredients) sum += ingredient.amount;
  return sum;
}

/// How far rounding puts the worst ingredient off its share of `all_mg`.
double worst_error(std::span<const Balance> balances, const std::vector<MixIngredient>& ingredients,
                   double all_mg) {
  double worst = 0;
  for (const auto& ingredient : ingredients) {
    const double mg = all_mg * ingredient.amount / sum_of(ingredients);
    const auto weighed = mix_weighing_of(balances, {}, mg, false).mass_mg;
    worst = std::max(worst, std::abs(static_cast<double>(weighed) / mg - 1));
  }
  return worst;
}

/// How much of all ingredients goes into the first step: at least `least_mg`, each at least 50
/// digits, and a little more where that weighs the ratio better.
double first_amount(std::span<const Balance> balances,
                    const std::vector<MixIngredient>& ingredients, double least_mg) {
  double amount = least_mg;
  for (const auto& ingredient : ingredients) {
    const double share = ingredient.amount / sum_of(ingredients);
    amount = std::max(amount, static_cast<double>(least_mass_mg(balances, amount * share)) / share);
  }
  if (ingredients.size() == 1) {
    const auto digit = readability_mg(balance_for(balances, amount));
    return static_cast<double>(up_to_digit(amount, digit));
  }
  double best = amount;
  double best_error = worst_error(balances, ingredients, amount);
  for (int eighth = 1; eighth <= 16 && best_error > good_ratio; ++eighth) {
    const double larger = amount * (1 + eighth / 8.0);
    const double error = worst_error(balances, ingredients, larger);
    if (error >= best_error) continue;
    best = larger;
    best_error = error;
  }
  return best;
}

}  // namespace

double Dilution::factor() const { return std::pow(parts, steps); }

Dilution dilution_of(double factor) {
  Dilution dilution;
  if (factor <= 1 + 1e-9) return dilution;
  dilution.steps = 1;
  while (std::pow(most_parts, dilution.steps) < factor * (1 - 1e-9)) ++dilution.steps;
  dilution.parts = static_cast<int>(std::ceil(std::pow(factor, 1.0 / dilution.steps) - 1e-9));
  return dilution;
}

std::int64_t least_mass_mg(std::span<const Balance> balances, double mg) {
  return least_digits * readability_mg(balance_for(balances, mg));
}

double ample_mass_mg(std::span<const Balance> balances, double mg) {
  return 1.5 * static_cast<double>(least_mass_mg(balances, mg));
}

MixWeighing mix_weighing_of(std::span<const Balance> balances, std::string material, double mg,
                            bool round_up) {
  const Balance& balance = balance_for(balances, mg);
  MixWeighing weighing;
  weighing.material = std::move(material);
  weighing.balance = balance.name;
  weighing.readability_mg = readability_mg(balance);
  weighing.mass_mg =
      round_up ? up_to_digit(mg, weighing.readability_mg) : rounded_to(mg, weighing.readability_mg);
  return weighing;
}

void make_steps(std::span<const Balance> balances, const std::vector<MixIngredient>& ingredients,
                const Dilution& dilution, double needed_mg, StockMix& mix) {
  const int steps = std::max(1, dilution.steps);
  std::vector<double> into(static_cast<std::size_t>(steps));  // of the mix of the step before
  // Carriers are rounded up, so each step may be that much thinner than it should.
  double wanted = needed_mg * std::pow(for_what_clings, steps);
  for (int s = steps - 1; s >= 0; --s) {
    const double in = wanted / dilution.parts;
    const auto least = static_cast<double>(least_mass_mg(balances, in));
    wanted = into[static_cast<std::size_t>(s)] = std::max(in, least);
  }
  MixStep step;
  const double first = first_amount(balances, ingredients, into.front());
  std::vector<double> fractions;  // along the ingredients
  for (const auto& ingredient : ingredients) {
    const double mg = first * ingredient.amount / sum_of(ingredients);
    step.weighings.push_back(mix_weighing_of(balances, ingredient.material, mg, false));
    step.mass_mg += step.weighings.back().mass_mg;
  }
  std::int64_t carrier_mg = 0;
  for (const auto& weighing : step.weighings) {
    fractions.push_back(static_cast<double>(weighing.mass_mg) / static_cast<double>(step.mass_mg));
    mix.parts.push_back({weighing.material, 0, false, weighing.mass_mg, 0});
  }
  for (int s = 0; s < steps; ++s) {
    if (s > 0) {
      step = {};
      const double available = static_cast<double>(mix.steps.back().mass_mg);
      auto earlier = mix_weighing_of(balances, {}, into[static_cast<std::size_t>(s)], true);
      if (static_cast<double>(earlier.mass_mg) > available)
        earlier = mix_weighing_of(balances, {}, into[static_cast<std::size_t>(s)], false);
      earlier.material = mix.code + " step " + std::to_string(s);
      earlier.earlier_mix = true;
      step.mass_mg = earlier.mass_mg;
      step.weighings.push_back(std::move(earlier));
    }
    if (dilution.steps > 0) {
      const std::int64_t in = step.mass_mg;
      auto carrier = mix_weighing_of(balances, mix.carrier,
                                     static_cast<double>(in) * (dilution.parts - 1), true);
      carrier_mg += carrier.mass_mg;
      step.mass_mg += carrier.mass_mg;
      for (double& fraction : fractions)
        fraction *= static_cast<double>(in) / static_cast<double>(step.mass_mg);
      step.weighings.push_back(std::move(carrier));
    }
    mix.steps.push_back(step);
  }
  mix.mass_mg = mix.steps.back().mass_mg;
  double active = 0;
  for (std::size_t p = 0; p < fractions.size(); ++p) {
    mix.parts[p].fraction = fractions[p];
    active += fractions[p];
  }
  if (dilution.steps > 0) mix.parts.push_back({mix.carrier, 1 - active, true, carrier_mg, 0});
}

}  // namespace leastwise::trial
