// The least that a program may want: a question made in C++, and its cost.
#include <leastwise/formulate.hpp>

#include <iostream>

leastwise::Scenario urea_for(double kg_nitrogen_per_ha);

int main() {
  const auto answer = leastwise::formulate(urea_for(46));
  const leastwise::Blend* blend = answer.blend();
  std::cout << (blend != nullptr ? blend->cost_per_ha.value_or(0) : 0) << '\n';
  return blend != nullptr && blend->cost_per_ha.value_or(0) > 0 ? 0 : 1;
}
