#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

#include "report/answers.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/safety.hpp"

namespace leastwise::report {

namespace {

/// Pairs that may be mixed and not stored share what to do: it is said once, and then each pair.
void write_limited_pairs(Page& page, std::span<const Note> notes) {
  page.warning_item("  - ",
                    "caution: these pairs are of limited compatibility. Mix them shortly before "
                    "use and do not store them.");
  for (const Note& note : notes)
    if (is_limited_pair(note)) page.item("  - ", with_full_stop(note.reason));
}

}  // namespace

bool is_limited_pair(const Note& note) {
  return note.code == NoteCode::limited_compatibility && !note.reason.empty();
}

void write_notes(Page& page, std::span<const Note> notes) {
  if (notes.empty()) return;
  page.heading("Notes");
  const bool grouped = std::ranges::count_if(notes, is_limited_pair) > 1;
  bool told = false;
  for (const NoteLevel level : {NoteLevel::warning, NoteLevel::caution, NoteLevel::info}) {
    for (const Note& note : notes) {
      if (note.level != level) continue;
      if (grouped && is_limited_pair(note)) {
        if (!std::exchange(told, true)) write_limited_pairs(page, notes);
      } else if (level == NoteLevel::info) {
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

Page without_goods(Page page) {
  if (page.in_html()) write_safety(page, {}, {}, {});
  return page;
}

std::string place_text(const Place& place) {
  if (!place) return {};
  return fmt::format(" ({}:{})", place.source, place.line);
}

namespace {}  // namespace

report::Page page_of(const Formulation& answer, report::Medium medium) {
  report::Page page(medium);
  if (const Blend* blend = answer.blend()) {
    report::write_blend(page, *blend);
  } else if (const Conflict* conflict = answer.conflict()) {
    report::write_conflict(page, *conflict);
  } else {
    report::write_stopped(page, *answer.stopped());
  }
  return page;
}

std::string svg_of(const Formulation& answer) {
  if (const Blend* blend = answer.blend()) {
    const std::array pictures{report::cost_picture(*blend), report::supply_picture(*blend)};
    const std::size_t drawn = pictures.back().height > 0 ? 2 : 1;
    return report::svg_document(std::span(pictures).first(drawn));
  }
  const Conflict* conflict = answer.conflict();
  const report::Picture picture = conflict != nullptr ? report::conflict_picture(*conflict)
                                                      : report::stopped_picture(*answer.stopped());
  return report::svg_document({&picture, 1});
}

}  // namespace leastwise::report
