#pragma once
#include <leastwise/export.h>

#include <cstddef>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

/// A place in a source text. `line` and `column` are 1-based; 0 when there is no text.
struct LEASTWISE_API Place {
  std::string source{};  ///< file name as the user wrote it; empty for a scenario built in code
  int line = 0;          ///< 1-based; 0: nowhere
  int column = 0;        ///< in characters (code points); a tab is one
  int width = 1;         ///< how many columns the caret spans

  /// True when it points into a text.
  [[nodiscard]] explicit operator bool() const { return line > 0; }
  /// Equal in every field.
  friend bool operator==(const Place&, const Place&) = default;
};

/// How bad a finding is: only an error rejects the input.
enum class Severity {
  error,    ///< the input is rejected
  warning,  ///< probably not what was meant
  note,     ///< belongs to the error before it
};

/// One finding about an input, written for the person who wrote the input.
struct LEASTWISE_API Diagnostic {
  Severity severity = Severity::error;  ///< only errors reject
  std::string code{};                   ///< stable, kebab-case: `unknown-key`
  std::string message{};    ///< expected, found, and the fix when certain; never a C++ name
  std::string path{};       ///< dotted field path: `materials.urea.price_per_t`
  Place place{};            ///< where it stands
  std::string line_text{};  ///< the user's own line, each tab one space; empty without a text

  /// `file:line:column: error: message [code]`, then the user's line with a caret. Without a text
  /// the path stands where the position would. No trailing newline.
  [[nodiscard]] std::string to_text() const;
};

/// The input was rejected. Holds the diagnostics sorted by position, notes behind the error they
/// belong to: at most 50, then a note that says how many errors are not shown.
class LEASTWISE_API InputError : public std::runtime_error {
 public:
  /// Sorts the diagnostics, and keeps the first 50.
  explicit InputError(std::vector<Diagnostic> diagnostics);
  /// What was found, in the order of the text.
  [[nodiscard]] const std::vector<Diagnostic>& diagnostics() const noexcept { return diagnostics_; }
  /// All diagnostics as text, then `N errors; nothing was solved`, ending in a newline.
  [[nodiscard]] std::string to_text() const;

  /// How many errors were found, shown or not.
  [[nodiscard]] std::size_t error_count() const noexcept { return error_count_; }

 private:
  InputError(std::vector<Diagnostic> shown, std::size_t error_count);
  std::size_t error_count_;
  std::vector<Diagnostic> diagnostics_;
};

}  // namespace leastwise
