#pragma once
#include <string>
#include <string_view>

namespace leastwise {

// Where a key of a format belongs, for messages: `under blend`; empty when the format has no such
// key. The JSON Schema of the format says it: `x-place` of the key itself, or `x-place-of-keys` of
// the mapping that holds it.

/// In a scenario.
[[nodiscard]] std::string where_it_belongs(std::string_view key);
/// In a trial, whose scenarios have keys of their own.
[[nodiscard]] std::string where_it_belongs_in_a_trial(std::string_view key);
/// In a season, whose blends are scenarios.
[[nodiscard]] std::string where_it_belongs_in_a_season(std::string_view key);
/// Whether it is a key of a scenario's root.
[[nodiscard]] bool belongs_at_top(std::string_view key);

}  // namespace leastwise
