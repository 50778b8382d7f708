#pragma once
#include "c/guard.hpp"
#include "c/handles.hpp"

namespace leastwise::c {

/// Applies `change` to the draft. `change` finishes whatever may fail before it changes anything.
template <class Change>
leastwise_result changed(leastwise_draft* draft, const Change& change) noexcept {
  return guarded(nullptr, [&] { change(required(draft, "draft").value); });
}

}  // namespace leastwise::c
