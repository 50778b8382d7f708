#pragma once
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>

#include <span>
#include <string>

namespace leastwise {

/// How a page of text is laid out.
struct TextOptions {
  bool colour = false;  ///< ANSI colours; the words are the same
  int width = 80;       ///< columns
};

/// The answer as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const Formulation& answer,
                                                const TextOptions& options = {});

/// The answer as JSON, report format version 1, indented, ending in a newline. Numbers carry 12
/// significant digits.
[[nodiscard]] LEASTWISE_API std::string to_json(const Formulation& answer);

/// The answer as CSV (RFC 4180, LF): a header line, then one line per portion and one of form
/// `binder` when powders need it; for an infeasible scenario one line per conflicting rule. The
/// first column of every line is the status.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Formulation& answer);

/// A table of materials (name, family, form, contents, SGN, bulk density, source) in each format.
[[nodiscard]] LEASTWISE_API std::string materials_to_text(std::span<const Material> materials,
                                                          const TextOptions& options = {});
/// The same table as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string materials_to_json(std::span<const Material> materials);
/// The same table as CSV (RFC 4180, LF).
[[nodiscard]] LEASTWISE_API std::string materials_to_csv(std::span<const Material> materials);

}  // namespace leastwise
