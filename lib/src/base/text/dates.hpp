#pragma once
#include <chrono>
#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// The day that `text` states as `2026-04-03`; nothing where there is no such day.
[[nodiscard]] std::optional<std::chrono::sys_days> day_of(std::string_view text);

/// `2026-04-03`.
[[nodiscard]] std::string date_text(std::chrono::sys_days day);

}  // namespace leastwise
