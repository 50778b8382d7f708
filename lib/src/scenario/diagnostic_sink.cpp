#include "scenario/diagnostic_sink.hpp"

#include <algorithm>
#include <utility>

#include "base/text/wording.hpp"
#include "base/unit_factors.hpp"

namespace leastwise {
namespace {

constexpr std::size_t widest_line = 200;

/// Whether `path` lies below `parent`: `a.b.c` below `a.b`.
bool lies_below(std::string_view path, std::string_view parent) {
  return path.size() > parent.size() && path[parent.size()] == '.' &&
         path.substr(0, parent.size()) == parent;
}

}  // namespace

Place nearest_place(const ScenarioDraft& draft, std::string_view path) {
  while (true) {
    const auto found = draft.places.find(path);
    if (found != draft.places.end()) return found->second;
    const auto dot = path.rfind('.');
    if (dot == std::string_view::npos) break;
    path = path.substr(0, dot);
  }
  const auto whole = draft.places.find(std::string_view{});
  return whole == draft.places.end() ? Place{} : whole->second;
}

std::string below(std::string_view path, std::string_view key) {
  std::string result(path);
  result += '.';
  result += key;
  return result;
}

std::string line_at(const std::vector<std::string>& lines, const Place& place) {
  if (place.line < 1 || static_cast<std::size_t>(place.line) > lines.size()) return {};
  if (static_cast<std::size_t>(place.column) > widest_line) return {};
  const std::string& line = lines[static_cast<std::size_t>(place.line) - 1];
  const auto head = first_code_points(line, widest_line);
  return printable(head) + (head.size() < line.size() ? "..." : "");
}

DiagnosticSink::DiagnosticSink(const ScenarioDraft& draft, Reading reading)
    : draft_(&draft), reading_(std::move(reading)) {}

void DiagnosticSink::add(Severity severity, std::string_view code, std::string path,
                         std::string message) {
  Diagnostic diagnostic;
  diagnostic.severity = severity;
  diagnostic.code = std::string(code);
  diagnostic.message = draft_->units == Units::us ? with_us_keys(message) : std::move(message);
  diagnostic.place = nearest_place(*draft_, path);
  diagnostic.path = std::move(path);
  const auto lines = draft_->source_lines.find(diagnostic.place.source);
  if (lines != draft_->source_lines.end()) {
    diagnostic.line_text = line_at(lines->second, diagnostic.place);
  }
  reading_.diagnostics.push_back(std::move(diagnostic));
}

void DiagnosticSink::error(std::string_view code, std::string path, std::string message) {
  last_was_added_ = !unreadable(path);
  if (last_was_added_) add(Severity::error, code, std::move(path), std::move(message));
}

void DiagnosticSink::error_inside(std::string_view code, std::string path, std::string message,
                                  std::size_t offset, std::size_t width) {
  const bool exact = draft_->places.find(path) != draft_->places.end();
  error(code, std::move(path), std::move(message));
  if (!last_was_added_ || !exact) return;
  Place& place = reading_.diagnostics.back().place;
  if (place.width < static_cast<int>(offset + width)) return;
  place.column += static_cast<int>(offset);
  place.width = static_cast<int>(width);
}

void DiagnosticSink::also(std::string path, std::string message) {
  if (last_was_added_) add(Severity::note, {}, std::move(path), std::move(message));
}

bool DiagnosticSink::unreadable(std::string_view path) const {
  while (true) {
    if (reading_.unreadable.find(path) != reading_.unreadable.end()) return true;
    const auto dot = path.rfind('.');
    if (dot == std::string_view::npos) return false;
    path = path.substr(0, dot);
  }
}

bool DiagnosticSink::touched(std::string_view path) const {
  return unreadable(path) ||
         std::any_of(reading_.unreadable.begin(), reading_.unreadable.end(),
                     [path](const std::string& other) { return lies_below(other, path); });
}

}  // namespace leastwise
