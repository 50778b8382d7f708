#pragma once
#include <leastwise/export.h>

#include <string>
#include <string_view>

namespace leastwise {

/// How much attention a note asks for.
enum class NoteLevel {
  info,     ///< good to know
  caution,  ///< mind it while working
  warning,  ///< probably not what was meant
};

/// `info`, `caution`, `warning`: the spelling of reports.
[[nodiscard]] LEASTWISE_API std::string_view to_string(NoteLevel level);

/// A remark that goes with an answer.
struct Note {
  NoteLevel level = NoteLevel::info;  ///< how much attention it asks for
  std::string text{};                 ///< one or more plain sentences

  /// Equal in every field.
  friend bool operator==(const Note&, const Note&) = default;
};

}  // namespace leastwise
