// Many what-ifs in C++, for bench_python.py to hold Python against.
//   bench_bulk scenario MATERIALS     prints a scenario that can be blended
//   bench_bulk ask FILE COUNT         asks COUNT questions on one thread, one after the other;
//   prints
//                                     each cost with all its digits, and last the processor time
#include <leastwise/load.hpp>
#include <leastwise/prepared.hpp>

#include <cstdio>
#include <cstdlib>
#include <cstring>
#include <ctime>
#include <vector>

#include "support/generator.hpp"
#include "yaml_text.hpp"

using namespace leastwise;

namespace {

int print_scenario(int materials) {
  for (std::uint64_t seed = 1;; ++seed) {
    const auto draft = support::random_draft(seed, {.materials = materials,
                                                    .either_or = false,
                                                    .basis = Basis::per_hectare,
                                                    .sabotage = 0,
                                                    .frills = false});
    const std::string text = bench::scenario_text(draft);
    if (formulate(parse_scenario(text), {.intervals = false}).blend() == nullptr) continue;
    std::fputs(text.c_str(), stdout);
    return 0;
  }
}

int ask(const char* file, int count) {
  const Scenario scenario = load_scenario(file);
  const auto& materials = scenario.materials();
  const std::clock_t start = std::clock();
  std::vector<WhatIf> questions;
  for (int k = 0; k < count; ++k) {
    const Material& one = materials[static_cast<std::size_t>(k) % materials.size()];
    questions.push_back({.prices = {{one.name, one.price_per_t * (0.9 + 0.0001 * (k % 2000))}}});
  }
  std::vector<double> costs;
  for (const auto& answer :
       formulate_many(PreparedBlend(scenario), questions, 1, {.intervals = false}))
    costs.push_back(answer.blend() != nullptr ? answer.blend()->cost_per_ha.value_or(0) : 0);
  const std::clock_t end = std::clock();
  for (const double cost : costs) std::printf("%.17g\n", cost);
  std::printf("%.17g\n", static_cast<double>(end - start) / CLOCKS_PER_SEC);
  return 0;
}

}  // namespace

int main(int count, char** words) {
  if (count == 3 && std::strcmp(words[1], "scenario") == 0)
    return print_scenario(std::atoi(words[2]));
  if (count == 4 && std::strcmp(words[1], "ask") == 0) return ask(words[2], std::atoi(words[3]));
  std::fputs("bench_bulk scenario MATERIALS, or ask FILE COUNT\n", stderr);
  return 64;
}
