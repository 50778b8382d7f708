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

/// The paper a page is laid out for.
enum class Paper {
  a4,      ///< 210 mm x 297 mm (ISO 216)
  letter,  ///< 8.5 in x 11 in
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

/// The answer as a page for a browser or a printer, light or dark as the reader prefers, with
/// pictures of the cost and of supply against targets, each beside a table of the same figures.
/// Needs nothing but itself: no script, font or picture from elsewhere.
[[nodiscard]] LEASTWISE_API std::string to_html(const Formulation& answer, Paper paper = Paper::a4);

/// The pictures alone, as one SVG document. Without a blend it says so in words.
[[nodiscard]] LEASTWISE_API std::string to_svg(const Formulation& answer);

/// A table of materials (name, family, form, contents, SGN, bulk density, source) in each format.
[[nodiscard]] LEASTWISE_API std::string materials_to_text(std::span<const Material> materials,
                                                          const TextOptions& options = {});
/// The same table as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string materials_to_json(std::span<const Material> materials);
/// The same table as CSV (RFC 4180, LF).
[[nodiscard]] LEASTWISE_API std::string materials_to_csv(std::span<const Material> materials);
/// The same table as a page for a browser or a printer. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string materials_to_html(std::span<const Material> materials,
                                                          Paper paper = Paper::a4);

}  // namespace leastwise
