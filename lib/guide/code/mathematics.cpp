// The mathematics of the guide in numbers: the derivative of a homogeneous row, and a proof.
#include <leastwise/leastwise.hpp>

#include <cstdlib>
#include <exception>
#include <iomanip>
#include <iostream>

namespace {

leastwise::Scenario low_in_chloride(double most_chloride_percent) {
  leastwise::ScenarioDraft draft;
  draft.currency = "USD";
  draft.materials = {{.name = "urea", .price_per_t = 469},
                     {.name = "mop", .price_per_t = 411},
                     {.name = "sop", .price_per_t = 662}};
  draft.rates_kg_per_ha = {{.nutrient = "N", .limits = {.min = 60}},
                           {.nutrient = "K2O", .limits = {.min = 30}}};
  draft.grade_percent = {{.nutrient = "Cl", .limits = {.max = most_chloride_percent}}};
  return leastwise::Scenario(draft);
}

double cost(double most_chloride_percent) {
  return leastwise::formulate(low_in_chloride(most_chloride_percent)).blend()->cost_per_ha.value();
}

void print_derivative() {
  const auto answer = leastwise::formulate(low_in_chloride(5));
  for (const auto& rule : answer.blend()->binding) {
    if (rule.rule != "grade Cl max") continue;
    constexpr double step = 1e-4;
    const double slope = (cost(5 + step) - cost(5 - step)) / (2 * step);
    std::cout << rule.rule << ": " << rule.shadow_price << ' ' << rule.unit << ", by differences "
              << slope << '\n';
  }
}

void print_proof(const leastwise::Scenario& scenario) {
  const auto proven = leastwise::formulate_with_proof(scenario);
  if (!proven.proof) return;
  std::cout << "cost " << proven.proof->cost << '\n';
  for (const auto& part : proven.proof->cases) {
    for (const auto& [rule, value] : part.multipliers) std::cout << rule << " x " << value << '\n';
    std::cout << "bound " << part.bound << '\n';
  }
  const auto checked = leastwise::verify(*proven.proof, scenario);
  std::cout << leastwise::to_string(checked.verdict) << '\n';
}

}  // namespace

int main(int count, char** words) try {
  if (count != 2) return EXIT_FAILURE;
  std::cout << std::fixed << std::setprecision(4);
  print_derivative();
  print_proof(leastwise::load_scenario(words[1]));
  return EXIT_SUCCESS;
} catch (const std::exception& error) {
  std::cerr << error.what() << '\n';
  return EXIT_FAILURE;
}
