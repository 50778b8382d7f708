// What the guide works out by hand, asked of the library: prices of rules, how far they hold, a
// kink, and the price at which a material enters.
#include <leastwise/leastwise.hpp>

#include <cstdlib>
#include <exception>
#include <iomanip>
#include <iostream>
#include <optional>
#include <string>
#include <string_view>

namespace {

leastwise::Scenario worked(double nitrogen, double sulfur) {
  leastwise::ScenarioDraft draft;
  draft.title = "Worked by hand";
  draft.currency = "USD";
  draft.materials = {{.name = "urea", .price_per_t = 460},
                     {.name = "ammonium-sulfate", .price_per_t = 330},
                     {.name = "sulfur-bentonite", .price_per_t = 720}};
  draft.rates_kg_per_ha = {{.nutrient = "N", .limits = {.min = nitrogen}},
                           {.nutrient = "S", .limits = {.min = sulfur}}};
  return leastwise::Scenario(draft);
}

double cost(double nitrogen, double sulfur) {
  return leastwise::formulate(worked(nitrogen, sulfur)).blend()->cost_per_ha.value();
}

void print(const leastwise::Known<double>& number, std::string_view none) {
  if (number) {
    std::cout << *number;
  } else {
    std::cout << (number.is_none() ? none : "not computed");
  }
}

void print_prices(const leastwise::Scenario& scenario) {
  const auto answer = leastwise::formulate(scenario);
  const auto* blend = answer.blend();
  if (blend == nullptr) return;
  double sum = 0;
  for (const auto& rule : blend->binding) {
    std::cout << rule.rule << ' ' << rule.limit << ": ";
    if (rule.unique == true) {
      std::cout << rule.shadow_price << ' ' << rule.unit << ", from ";
      print(rule.holds_from, "no end");
      std::cout << " to ";
      print(rule.holds_to, "no end");
    } else if (known_sides(rule) == leastwise::KnownSides::both) {
      std::cout << "one less saves ";
      print(rule.price_below, "no blend");
      std::cout << ", one more costs ";
      print(rule.price_above, "no blend");
    }
    std::cout << '\n';
    sum += rule.limit * rule.shadow_price;
  }
  std::cout << "cost " << *blend->cost_per_ha << ", limits times prices " << sum << '\n';
}

void print_steps(double nitrogen, double sulfur) {
  const double here = cost(nitrogen, sulfur);
  std::cout << "one kg/ha N more " << cost(nitrogen + 1, sulfur) - here << ", less "
            << cost(nitrogen - 1, sulfur) - here << '\n'
            << "one kg/ha S more " << cost(nitrogen, sulfur + 1) - here << ", less "
            << cost(nitrogen, sulfur - 1) - here << '\n';
}

double used(const leastwise::Scenario& scenario, const std::string& material) {
  const auto answer = leastwise::formulate(scenario);
  for (const auto& portion : answer.blend()->portions) {
    if (portion.material == material) return portion.kg_per_ha.value();
  }
  return 0;
}

}  // namespace

int main() try {
  std::cout << std::fixed << std::setprecision(3);
  std::cout << "N 67, S 24\n";
  print_prices(worked(67, 24));
  print_steps(67, 24);

  std::cout << "N 21, S 24\n";
  print_prices(worked(21, 24));
  print_steps(21, 24);

  const auto scenario = worked(67, 24);
  std::cout << "sulfur-bentonite at 451: "
            << used(scenario.with_price("sulfur-bentonite", 451), "sulfur-bentonite")
            << " kg/ha, at 449: "
            << used(scenario.with_price("sulfur-bentonite", 449), "sulfur-bentonite") << " kg/ha\n";
  return EXIT_SUCCESS;
} catch (const std::exception& error) {
  std::cerr << error.what() << '\n';
  return EXIT_FAILURE;
}
