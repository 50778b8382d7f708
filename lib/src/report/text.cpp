#include <leastwise/report.hpp>

#include <fmt/format.h>

#include "report/layout.hpp"
#include "report/safety.hpp"
#include "report/sections.hpp"

namespace leastwise {
namespace report {

void write_notes(Page& page, std::span<const Note> notes) {
  if (notes.empty()) return;
  page.heading("Notes");
  for (const NoteLevel level : {NoteLevel::warning, NoteLevel::caution, NoteLevel::info}) {
    for (const Note& note : notes) {
      if (note.level != level) continue;
      if (level == NoteLevel::info) {
        page.item("  - ", capitalised(with_full_stop(note.text)));
      } else {
        page.warning_item("  - ",
                          fmt::format("{}: {}", to_string(level), with_full_stop(note.text)));
      }
    }
  }
}

void write_safety(Page& page, std::span<const Portion> portions, std::span<const Supply> supply,
                  std::span<const Note> notes) {
  page.heading("Safety");
  for (const std::string& line : safety_lines(portions, supply, notes)) page.item("  - ", line);
}

std::string place_text(const Place& place) {
  if (!place) return {};
  return fmt::format(" ({}:{})", place.source, place.line);
}

}  // namespace report

std::string to_text(const Formulation& answer, const TextOptions& options) {
  report::Page page(options);
  if (const Blend* blend = answer.blend()) {
    report::write_blend(page, *blend);
  } else if (const Conflict* conflict = answer.conflict()) {
    report::write_conflict(page, *conflict);
  } else {
    report::write_stopped(page, *answer.stopped());
  }
  return std::move(page).text();
}

}  // namespace leastwise
