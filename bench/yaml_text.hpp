#pragma once
#include <leastwise/draft.hpp>

#include <string>

namespace leastwise::bench {

/// A catalogue file (`materials:`) of the draft's materials.
[[nodiscard]] std::string catalogue_text(const ScenarioDraft& draft);

/// A whole scenario file of the draft, its materials inline.
[[nodiscard]] std::string scenario_text(const ScenarioDraft& draft);

}  // namespace leastwise::bench
