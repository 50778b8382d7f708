#pragma once
#include <leastwise/export.h>

#include <stdexcept>

namespace leastwise {

/// Reading was stopped by request before it was known whether the input is right.
class LEASTWISE_API LoadStopped : public std::runtime_error {
 public:
  LoadStopped();
};

}  // namespace leastwise
