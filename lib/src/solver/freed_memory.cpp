#include "solver/freed_memory.hpp"

#include <cstdlib>

namespace leastwise::solver {
namespace {

/// More than CLP works in at 400 materials and 60 rules; glibc then keeps up to twice as much.
constexpr std::size_t largest_work_area = std::size_t{4} << 20;

bool map_and_free() {
  void* volatile block = std::malloc(largest_work_area);  // volatile: not left out as useless
  std::free(block);
  return true;
}

}  // namespace

void keep_freed_memory() { [[maybe_unused]] static const bool done = map_and_free(); }

}  // namespace leastwise::solver
