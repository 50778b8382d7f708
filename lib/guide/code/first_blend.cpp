// The first order of the guide, built in a program instead of read from a file.
#include <leastwise/leastwise.hpp>

#include <cstdlib>
#include <iomanip>
#include <iostream>

namespace {

leastwise::Scenario first_order() {
  leastwise::ScenarioDraft order;
  order.title = "Ridge Field sunflower, first order";
  order.currency = "USD";
  order.materials = {{.name = "urea", .price_per_t = 469},
                     {.name = "ammonium-sulfate", .price_per_t = 279},
                     {.name = "map", .price_per_t = 681},
                     {.name = "mop", .price_per_t = 411}};
  order.rates_kg_per_ha = {{.nutrient = "N", .limits = {.min = 60, .max = 70}},
                           {.nutrient = "P2O5", .limits = {.min = 40}},
                           {.nutrient = "K2O", .limits = {.min = 30}},
                           {.nutrient = "S", .limits = {.min = 12}}};
  return leastwise::Scenario(order);  // checks everything at once
}

}  // namespace

int main() try {
  const auto scenario = first_order();
  const auto answer = leastwise::formulate(scenario);
  const auto* blend = answer.blend();
  if (blend == nullptr) {
    std::cerr << leastwise::to_text(answer);
    return EXIT_FAILURE;
  }
  std::cout << std::fixed << std::setprecision(2);
  for (const auto& portion : blend->portions) {
    std::cout << portion.material << ' ' << *portion.kg_per_ha << " kg/ha\n";
  }
  std::cout << *blend->cost_per_ha << ' ' << blend->currency << "/ha\n";
  return EXIT_SUCCESS;
} catch (const leastwise::InputError& error) {
  std::cerr << error.to_text();
  return EXIT_FAILURE;
}
