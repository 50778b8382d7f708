#include "solver/kernel.hpp"

#include <atomic>

namespace leastwise::solver {
namespace {

std::atomic<Kernel>& forced() {
  static std::atomic<Kernel> kernel{Kernel::as_it_comes};
  return kernel;
}

}  // namespace

Kernel usual_kernel() { return forced().load(std::memory_order_relaxed); }

ForcedKernel::ForcedKernel(Kernel kernel) : before_(forced().exchange(kernel)) {}

ForcedKernel::~ForcedKernel() { forced().store(before_); }

}  // namespace leastwise::solver
