#define DOCTEST_CONFIG_IMPLEMENT
#include <doctest/doctest.h>

#include <cstdlib>
#include <iostream>
#include <optional>
#include <string_view>

#include "solver/kernel.hpp"

// Every test of the library with the dense kernel whatever the size, or with CLP alone:
//   LEASTWISE_KERNEL=always|never unit_tests

namespace {

using leastwise::solver::Kernel;

/// Returns: false for a word that is none.
bool read_kernel(std::optional<leastwise::solver::ForcedKernel>& forced) {
  const char* text = std::getenv("LEASTWISE_KERNEL");
  if (text == nullptr) return true;
  const std::string_view word(text);
  if (word == "always") forced.emplace(Kernel::always);
  if (word == "never") forced.emplace(Kernel::never);
  return forced.has_value() || word == "as_it_comes";
}

}  // namespace

int main(int count, char** arguments) {
  std::optional<leastwise::solver::ForcedKernel> forced;
  if (!read_kernel(forced)) {
    std::cerr << "LEASTWISE_KERNEL must be always, never or as_it_comes\n";
    return 64;
  }
  return doctest::Context(count, arguments).run();
}
