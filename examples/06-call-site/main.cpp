// The library from a program: read a scenario, ask, look at the answer, ask again at another price.
#include <leastwise/leastwise.hpp>

#include <cstdlib>
#include <iomanip>
#include <iostream>

namespace {

void print(const leastwise::Formulation& answer) {
  if (const auto* blend = answer.blend()) {
    for (const auto& portion : blend->portions) {
      std::cout << "  " << portion.material << ' ' << portion.kg_per_t << " kg/t\n";
    }
    if (blend->cost_per_ha) {  // only where the scenario asks for rates per hectare
      std::cout << "  " << *blend->cost_per_ha << ' ' << blend->currency << "/ha\n";
    }
  } else {
    std::cerr << leastwise::to_text(answer);  // which rules conflict, and by how much
  }
}

}  // namespace

int main(int count, char** words) try {
  if (count != 2) {
    std::cerr << "usage: " << words[0] << " FILE\n";
    return EXIT_FAILURE;
  }
  std::cout << std::fixed << std::setprecision(1);
  const auto scenario = leastwise::load_scenario(words[1]);  // throws with all that is wrong
  std::cout << scenario.title() << '\n';
  print(leastwise::formulate(scenario));

  std::cout << "with urea at 600\n";
  print(leastwise::formulate(scenario.with_price("urea", 600)));  // the first one is untouched
  return EXIT_SUCCESS;
} catch (const leastwise::InputError& error) {
  std::cerr << error.to_text() << '\n';
  return EXIT_FAILURE;
}
