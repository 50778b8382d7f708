#pragma once
#include <leastwise/load_stopped.hpp>

#include <stop_token>

namespace leastwise {

/// Throws: LoadStopped once a stop was asked for.
inline void leave_if_asked(const std::stop_token& stop) {
  if (stop.stop_requested()) throw LoadStopped();
}

}  // namespace leastwise
