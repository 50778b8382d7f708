#pragma once
#include <leastwise/export.h>
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/formulation.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/quote.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>
#include <leastwise/season_plan.hpp>
#include <leastwise/verify.hpp>

#include <span>
#include <string>

namespace leastwise {

/// What an answer is written as. Every report ends in a newline.
enum class Format {
  text,  ///< plain text, at most `ReportOptions::width` columns
  json,  ///< report format version 1, indented; numbers carry 12 significant digits
  csv,   ///< RFC 4180 with LF: a header, then one line for each thing that the answer lists
  html,  ///< a page for a browser or a printer, light or dark; needs nothing but itself
  svg,   ///< the pictures alone, in words where there is nothing to draw
};

/// The paper a page is laid out for.
enum class Paper {
  a4,      ///< 210 mm x 297 mm (ISO 216)
  letter,  ///< 8.5 in x 11 in
};

/// How a report is laid out.
struct ReportOptions {
  bool colour = false;      ///< text: ANSI colours; the words are the same
  int width = 80;           ///< text: columns
  Paper paper = Paper::a4;  ///< html
  std::string source{};     ///< what a quote and the check of a scenario call its file
};

/// A scenario that nothing is wrong with, in brief: what it holds, and the notes it asks for.
struct CheckedScenario {
  const Scenario& scenario;  ///< must outlive this
};

// Each answer as a report. Throws: std::invalid_argument when `format` is `svg` and the answer has
// no pictures: a proof's verification, a quote, a season, a list of materials, a checked scenario.

/// CSV: one line per portion and one of form `binder` when powders need it; for an infeasible
/// scenario one line per conflicting rule. The first column of every line is the status.
[[nodiscard]] LEASTWISE_API std::string render(const Formulation& answer, Format format,
                                               const ReportOptions& options = {});
/// As the answer alone; JSON holds `proof` as well, or `why_no_proof` where there is none.
[[nodiscard]] LEASTWISE_API std::string render(const ProvenFormulation& answer, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each set of materials.
[[nodiscard]] LEASTWISE_API std::string render(const Alternatives& list, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each of both blends.
[[nodiscard]] LEASTWISE_API std::string render(const NearOptimum& answer, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each scenario.
[[nodiscard]] LEASTWISE_API std::string render(const Comparison& comparison, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each point of the curve.
[[nodiscard]] LEASTWISE_API std::string render(const LimitMap& map, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each band of prices.
[[nodiscard]] LEASTWISE_API std::string render(const PriceMap& map, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each corner of a region.
[[nodiscard]] LEASTWISE_API std::string render(const PriceRegions& map, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each draw: number, both costs, flexibility, number of the recipe.
[[nodiscard]] LEASTWISE_API std::string render(const PriceRisk& risk, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each portion, the binder and the fee.
[[nodiscard]] LEASTWISE_API std::string render(const RoundedBlend& blend, Format format,
                                               const ReportOptions& options = {});
/// CSV: a line for each part of the price, then the sums; money in whole cents, so that the lines
/// add up to each sum.
[[nodiscard]] LEASTWISE_API std::string render(const Quote& quote, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line for each material of each blend; without a plan one for each conflicting rule.
[[nodiscard]] LEASTWISE_API std::string render(const SeasonPlan& plan, Format format,
                                               const ReportOptions& options = {});
/// CSV: one line.
[[nodiscard]] LEASTWISE_API std::string render(const Verification& verification, Format format,
                                               const ReportOptions& options = {});
/// CSV: two columns, what and value; each note is a line `caution`, `warning` or `info`.
[[nodiscard]] LEASTWISE_API std::string render(const CheckedScenario& checked, Format format,
                                               const ReportOptions& options = {});
/// Name, family, form, contents, SGN, bulk density and source of each.
[[nodiscard]] LEASTWISE_API std::string render(std::span<const Material> materials, Format format,
                                               const ReportOptions& options = {});

/// What can be rendered.
template <class Answer>
concept Rendered = requires(const Answer& answer) {
  render(answer, Format::text);
};

/// `render` as plain text.
template <Rendered Answer>
[[nodiscard]] std::string to_text(const Answer& answer, const ReportOptions& options = {}) {
  return render(answer, Format::text, options);
}
/// `render` as JSON.
template <Rendered Answer>
[[nodiscard]] std::string to_json(const Answer& answer, const ReportOptions& options = {}) {
  return render(answer, Format::json, options);
}
/// `render` as CSV.
template <Rendered Answer>
[[nodiscard]] std::string to_csv(const Answer& answer, const ReportOptions& options = {}) {
  return render(answer, Format::csv, options);
}
/// `render` as a page of HTML.
template <Rendered Answer>
[[nodiscard]] std::string to_html(const Answer& answer, const ReportOptions& options = {}) {
  return render(answer, Format::html, options);
}
/// `render` as SVG.
template <Rendered Answer>
[[nodiscard]] std::string to_svg(const Answer& answer) {
  return render(answer, Format::svg);
}

}  // namespace leastwise
