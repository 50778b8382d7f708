#pragma once

namespace leastwise::solver {

/// Which simplex code an LpSolver asks first. Whatever the dense kernel gives up on goes to
/// CLP.
enum class Kernel {
  as_it_comes,  ///< the dense kernel, up to a size at which CLP is as fast
  always,       ///< the dense kernel, whatever the size
  never,        ///< CLP alone
};

/// What linear programs do that were not told otherwise: `as_it_comes`, unless a test has forced
/// something else on the whole process.
[[nodiscard]] Kernel usual_kernel();

/// For tests: forces a kernel on the process while it lives.
class ForcedKernel {
 public:
  explicit ForcedKernel(Kernel kernel);
  ForcedKernel(const ForcedKernel&) = delete;
  ForcedKernel& operator=(const ForcedKernel&) = delete;
  ForcedKernel(ForcedKernel&&) = delete;
  ForcedKernel& operator=(ForcedKernel&&) = delete;
  ~ForcedKernel();

 private:
  Kernel before_;
};

}  // namespace leastwise::solver
