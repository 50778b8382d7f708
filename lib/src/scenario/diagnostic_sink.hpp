#pragma once
#include <leastwise/diagnostic.hpp>
#include <leastwise/draft.hpp>

#include <algorithm>
#include <set>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// What the reading of a text has found before the whole is checked.
struct Reading {
  std::vector<Diagnostic> diagnostics{};
  /// Dotted paths of what could not be read. Nothing more is said about them or what is below.
  std::set<std::string, std::less<>> unreadable{};
  /// What messages call the list of the materials in play: `use` of a scenario, or of a trial's
  /// fixed recipe.
  std::string_view list_of_materials = "use";
};

/// The place of `path` or of its nearest parent that has one; false when there is none.
[[nodiscard]] Place nearest_place(const ScenarioDraft& draft, std::string_view path);

/// `path` and `key` joined by a dot.
[[nodiscard]] std::string below(std::string_view path, std::string_view key);

/// The user's line at `place`, ready for a caret; empty without a text or beyond a sensible width.
[[nodiscard]] std::string line_at(const std::vector<std::string>& lines, const Place& place);

/// Collects what is wrong with a draft, each finding at its place in the source text.
class DiagnosticSink {
 public:
  /// `draft` must outlive the diagnostics.
  DiagnosticSink(const ScenarioDraft& draft, Reading reading);

  /// Adds an error, unless `path` could not be read: then the reader has said so already.
  void error(std::string_view code, std::string path, std::string message);
  /// The same, where the finding stands `offset` columns into the value and is `width` wide.
  void error_inside(std::string_view code, std::string path, std::string message,
                    std::size_t offset, std::size_t width);
  /// Adds a note to the error just added: "first named here".
  void also(std::string path, std::string message);

  /// Whether `path` or something above it could not be read.
  [[nodiscard]] bool unreadable(std::string_view path) const;
  /// Whether `path` or something above *or below* it could not be read.
  [[nodiscard]] bool touched(std::string_view path) const;
  /// Whether something is wrong with a path of which `holds` is true.
  template <class Holds>
  [[nodiscard]] bool any_wrong(Holds holds) const {
    return std::ranges::any_of(reading_.unreadable, holds) ||
           std::ranges::any_of(reading_.diagnostics, holds, &Diagnostic::path);
  }
  /// What messages call the list of the materials in play.
  [[nodiscard]] std::string_view list_of_materials() const { return reading_.list_of_materials; }
  [[nodiscard]] bool empty() const { return reading_.diagnostics.empty(); }
  [[nodiscard]] std::vector<Diagnostic> take() { return std::move(reading_.diagnostics); }

 private:
  void add(Severity severity, std::string_view code, std::string path, std::string message);
  const ScenarioDraft* draft_;
  Reading reading_;
  bool last_was_added_ = false;
};

}  // namespace leastwise
