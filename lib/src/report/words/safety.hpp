#pragma once
#include <leastwise/formulation.hpp>

#include <span>
#include <string>
#include <vector>

namespace leastwise::report {

/// The usual cautions for handling these goods, the ones that apply first, then those that always
/// do. `supply` may be empty where it is not known. What one of `notes` already says of a toxic
/// element is not said again.
[[nodiscard]] std::vector<std::string> safety_lines(std::span<const Portion> portions,
                                                    std::span<const Supply> supply,
                                                    std::span<const Note> notes);

}  // namespace leastwise::report
