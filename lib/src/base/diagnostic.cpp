#include <leastwise/diagnostic.hpp>

#include <algorithm>
#include <tuple>
#include <utility>

#include "base/text/wording.hpp"

namespace leastwise {
namespace {

constexpr std::size_t most_shown = 50;
constexpr std::size_t number_width = 5;

std::string_view to_word(Severity severity) {
  switch (severity) {
    case Severity::error:
      return "error";
    case Severity::warning:
      return "warning";
    case Severity::note:
      break;
  }
  return "note";
}

/// `   14 |     price_per_t: 4l0` and a caret line below it.
std::string excerpt(const Diagnostic& diagnostic) {
  const std::string number = std::to_string(diagnostic.place.line);
  const std::size_t margin = std::max(number.size(), number_width);
  const std::size_t start = static_cast<std::size_t>(std::max(diagnostic.place.column, 1)) - 1;
  const std::size_t length = code_points(diagnostic.line_text);
  const std::size_t room = length > start ? length - start : 1;
  const auto width = std::clamp<std::size_t>(
      static_cast<std::size_t>(std::max(diagnostic.place.width, 1)), 1, room);
  return "\n" + std::string(margin - number.size(), ' ') + number + " | " + diagnostic.line_text +
         "\n" + std::string(margin, ' ') + " | " + std::string(start, ' ') +
         std::string(width, '^');
}

std::string position(const Diagnostic& diagnostic) {
  const Place& place = diagnostic.place;
  if (place) {
    return place.source + ":" + std::to_string(place.line) + ":" + std::to_string(place.column) +
           ": ";
  }
  if (!place.source.empty()) return place.source + ": ";
  return diagnostic.path.empty() ? std::string() : diagnostic.path + ": ";
}

using Group = std::vector<Diagnostic>;

/// An error and the notes that belong to it stay together.
std::vector<Group> grouped(std::vector<Diagnostic> diagnostics) {
  std::vector<Group> groups;
  for (auto& diagnostic : diagnostics) {
    if (groups.empty() || diagnostic.severity != Severity::note) groups.emplace_back();
    groups.back().push_back(std::move(diagnostic));
  }
  return groups;
}

bool stands_before(const Group& a, const Group& b) {
  const Place& p = a.front().place;
  const Place& q = b.front().place;
  return std::tie(p.source, p.line, p.column) < std::tie(q.source, q.line, q.column);
}

std::size_t count_errors(const std::vector<Diagnostic>& diagnostics) {
  return static_cast<std::size_t>(
      std::count_if(diagnostics.begin(), diagnostics.end(),
                    [](const Diagnostic& d) { return d.severity == Severity::error; }));
}

/// Sorted by position; at most 50, then a note that says how many errors are not shown.
std::vector<Diagnostic> ordered(std::vector<Diagnostic> diagnostics) {
  const std::size_t errors = count_errors(diagnostics);
  auto groups = grouped(std::move(diagnostics));
  std::stable_sort(groups.begin(), groups.end(), stands_before);
  std::vector<Diagnostic> result;
  for (auto& group : groups) {
    if (result.size() + group.size() > most_shown) break;
    for (auto& diagnostic : group) result.push_back(std::move(diagnostic));
  }
  const std::size_t hidden = errors - count_errors(result);
  if (hidden > 0) {
    Diagnostic note;
    note.severity = Severity::note;
    note.message = std::to_string(hidden) + " more " + (hidden == 1 ? "error is" : "errors are") +
                   " not shown; mend these first";
    result.push_back(std::move(note));
  }
  return result;
}

std::string all_text(const std::vector<Diagnostic>& diagnostics, std::size_t errors) {
  std::string text;
  for (const auto& diagnostic : diagnostics) text += diagnostic.to_text() + "\n";
  text += std::to_string(errors) + (errors == 1 ? " error" : " errors");
  text += "; nothing was solved\n";
  return text;
}

}  // namespace

std::string Diagnostic::to_text() const {
  std::string text = printable(position(*this));
  text += to_word(severity);
  text += ": ";
  text += printable(message);
  if (!code.empty()) text += " [" + code + "]";
  if (place && !line_text.empty()) text += excerpt(*this);
  return text;
}

// The public signature takes it by value. NOLINTNEXTLINE(performance-unnecessary-value-param)
InputError::InputError(std::vector<Diagnostic> diagnostics)
    : InputError(ordered(diagnostics), count_errors(diagnostics)) {}

InputError::InputError(std::vector<Diagnostic> shown, std::size_t error_count)
    : std::runtime_error(all_text(shown, error_count)),
      error_count_(error_count),
      diagnostics_(std::move(shown)) {}

std::string InputError::to_text() const { return all_text(diagnostics_, error_count_); }

}  // namespace leastwise
