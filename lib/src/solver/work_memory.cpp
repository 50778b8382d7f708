#include "solver/work_memory.hpp"

#include <cstdlib>
#include <new>

namespace leastwise::solver {
namespace {

/// More than CLP works in at 400 materials and 60 rules; glibc keeps up to twice as much.
constexpr std::size_t work_area = std::size_t{4} << 20;

}  // namespace

// Memory in the raw is what this is about. NOLINTBEGIN(*-no-malloc, *-owning-memory)
void require_work_memory() {
  void* volatile block = std::malloc(work_area);  // volatile: not left out as useless
  if (block == nullptr) throw std::bad_alloc();
  std::free(block);
}
// NOLINTEND(*-no-malloc, *-owning-memory)

}  // namespace leastwise::solver
