#include <leastwise/leastwise.hpp>

#include <cmath>
#include <iostream>

leastwise::Scenario urea_for(double kg_nitrogen_per_ha);

namespace {

bool near(double a, double b) { return std::abs(a - b) <= 1e-9 * std::abs(b); }

}  // namespace

// 46 kg/ha of N from urea of 46 % N at 460 per t: 100 kg/ha for 46 per ha.
int main() {
  constexpr std::string_view text = R"(leastwise: 1
materials:
  urea:
    form: granule
    contains_percent: {N: 46}
    price_per_t: 460
rates_kg_per_ha:
  N: {min: 46}
)";
  for (const auto& scenario : {urea_for(46), leastwise::parse_scenario(text)}) {
    const leastwise::Formulation answer = leastwise::formulate(scenario);
    const leastwise::Blend* blend = answer.blend();
    if (blend == nullptr || blend->portions.size() != 1 ||
        !near(blend->portions[0].kg_per_ha.value_or(0), 100) ||
        !near(blend->cost_per_ha.value_or(0), 46)) {
      std::cerr << "not the blend expected:\n" << leastwise::to_text(answer);
      return 1;
    }
    std::cout << leastwise::to_json(answer);
  }
  std::cout << leastwise::version() << '\n';
}
