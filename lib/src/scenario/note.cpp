#include <leastwise/note.hpp>

namespace leastwise {

std::string_view to_string(NoteLevel level) {
  switch (level) {
    case NoteLevel::caution:
      return "caution";
    case NoteLevel::warning:
      return "warning";
    case NoteLevel::info:
      break;
  }
  return "info";
}

}  // namespace leastwise
