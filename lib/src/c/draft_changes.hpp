#pragma once
#include <limits>

#include "c/guard.hpp"
#include "c/handles.hpp"

namespace leastwise::c {

/// Applies `change` to the draft. `change` finishes whatever may fail before it changes anything.
template <class Change>
leastwise_result changed(leastwise_draft* draft, const Change& change) noexcept {
  return guarded(nullptr, [&] { change(required(draft, "draft").value); });
}

/// The limits between two numbers, either of which is no limit when it is infinite.
inline Limits limits_of(double min, double max) {
  constexpr double infinity = std::numeric_limits<double>::infinity();
  return {min == infinity ? -infinity : min, max == -infinity ? infinity : max};
}

}  // namespace leastwise::c
