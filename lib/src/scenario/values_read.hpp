#pragma once
#include <leastwise/draft.hpp>

namespace leastwise {

// A message points at the user's line only while the draft still says what that line said. A part
// of a draft is a material, one target, one setting: what has a dotted path of its own.

/// Notes what each part of a draft with places says now: its places are of that.
void remember_values(ScenarioDraft& draft);

/// Forgets the places of the parts that no longer say what was noted, and of those that are new.
void forget_changed_places(ScenarioDraft& draft);

}  // namespace leastwise
