#include "report/json_values.hpp"

#include "report/numbers.hpp"

namespace leastwise::report {

Json json_number(const std::optional<double>& value) {
  if (!value) return nullptr;
  const auto figure = rounded(*value);
  return figure ? Json(*figure) : Json(nullptr);
}

Json json_note(const Note& note) { return {{"level", to_string(note.level)}, {"text", note.text}}; }

}  // namespace leastwise::report
