#include <doctest/doctest.h>
#include <leastwise/portion.hpp>

#include <vector>

#include "report/kit/answer_cells.hpp"

using namespace leastwise;
using report::told_apart;

TEST_SUITE_BEGIN("told apart");

TEST_CASE("a recipe is told by what it has and the first has not") {
  const std::vector<Portion> first{{.material = "urea", .kg_per_t = 400},
                                   {.material = "mop", .kg_per_t = 595},
                                   {.material = "zinc-oxide", .kg_per_t = 5}};
  std::vector<Portion> other{{.material = "urea", .kg_per_t = 398},
                             {.material = "mop", .kg_per_t = 594},
                             {.material = "zinc-sulfate", .kg_per_t = 8}};
  CHECK(told_apart(other, first) == "+ zinc-sulfate 8.00, - zinc-oxide");
  CHECK(told_apart(first, first).empty());
  other.back() = {.material = "zinc-oxide", .kg_per_t = 8};
  CHECK(told_apart(other, first) == "zinc-oxide 8.00, urea 398.0, mop 594.0");
}

TEST_SUITE_END();
