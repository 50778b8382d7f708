#pragma once
#include <leastwise/alternatives.hpp>
#include <leastwise/compare.hpp>
#include <leastwise/diagnostic.hpp>
#include <leastwise/export.h>
#include <leastwise/formulation.hpp>
#include <leastwise/limit_map.hpp>
#include <leastwise/price_map.hpp>
#include <leastwise/prove.hpp>
#include <leastwise/risk.hpp>
#include <leastwise/rounding.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

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
/// The same with `proof`, or `why_no_proof` where there is none.
[[nodiscard]] LEASTWISE_API std::string to_json(const ProvenFormulation& proven);

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

/// The list as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const Alternatives& list,
                                                const TextOptions& options = {});
/// The list as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const Alternatives& list);
/// The list as CSV (RFC 4180, LF). One line for each set.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Alternatives& list);
/// The list as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const Alternatives& list, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: what each blend costs more than the cheapest. In
/// words where there is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const Alternatives& list);
/// Both blends as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const NearOptimum& answer,
                                                const TextOptions& options = {});
/// Both blends as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const NearOptimum& answer);
/// Both blends as CSV (RFC 4180, LF). One line for each.
[[nodiscard]] LEASTWISE_API std::string to_csv(const NearOptimum& answer);
/// Both blends as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const NearOptimum& answer, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: their materials side by side. In words where there
/// is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const NearOptimum& answer);

/// The comparison as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const Comparison& comparison,
                                                const TextOptions& options = {});
/// The comparison as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const Comparison& comparison);
/// The comparison as CSV (RFC 4180, LF). One line for each scenario.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Comparison& comparison);
/// The comparison as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const Comparison& comparison,
                                                Paper paper = Paper::a4);
/// The picture alone, as SVG: the cost of each line. In words where there is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const Comparison& comparison);

/// The curve as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const LimitMap& map,
                                                const TextOptions& options = {});
/// The curve as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const LimitMap& map);
/// The curve as CSV (RFC 4180, LF). One line for each point.
[[nodiscard]] LEASTWISE_API std::string to_csv(const LimitMap& map);
/// The map as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const LimitMap& map, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: the least cost over the limit. In words where there
/// is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const LimitMap& map);

/// The map as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const PriceMap& map,
                                                const TextOptions& options = {});
/// The map as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const PriceMap& map);
/// The map as CSV (RFC 4180, LF). One line for each band.
[[nodiscard]] LEASTWISE_API std::string to_csv(const PriceMap& map);
/// The map as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const PriceMap& map, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: the least cost and the share over the price. In
/// words where there is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const PriceMap& map);
/// The regions as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const PriceRegions& map,
                                                const TextOptions& options = {});
/// The regions as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const PriceRegions& map);
/// The regions as CSV (RFC 4180, LF). One line for each corner.
[[nodiscard]] LEASTWISE_API std::string to_csv(const PriceRegions& map);
/// The regions as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const PriceRegions& map, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: the plane of both prices. In words where there is
/// nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const PriceRegions& map);

/// The risk as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const PriceRisk& risk,
                                                const TextOptions& options = {});
/// The risk as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const PriceRisk& risk);
/// One line for each draw: number, both costs, flexibility, number of the recipe.
[[nodiscard]] LEASTWISE_API std::string to_csv(const PriceRisk& risk);
/// The risk as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const PriceRisk& risk, Paper paper = Paper::a4);
/// The picture and the cautions alone, as SVG: the cost over all draws. In words where there is
/// nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const PriceRisk& risk);

/// The weighed blend as a page of plain text, at most `width` columns, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_text(const RoundedBlend& blend,
                                                const TextOptions& options = {});
/// The weighed blend as JSON, report format version 1, ending in a newline.
[[nodiscard]] LEASTWISE_API std::string to_json(const RoundedBlend& blend);
/// The weighed blend as CSV (RFC 4180, LF). One line for each portion, the binder and the fee.
[[nodiscard]] LEASTWISE_API std::string to_csv(const RoundedBlend& blend);
/// The blend as a page for a browser or a printer, with a picture. Needs nothing but itself.
[[nodiscard]] LEASTWISE_API std::string to_html(const RoundedBlend& blend, Paper paper = Paper::a4);
/// The picture alone, as SVG: what to weigh. In words where there is nothing to draw.
[[nodiscard]] LEASTWISE_API std::string to_svg(const RoundedBlend& blend);

/// A list of an answer as a table of its own, for programs that read tables.
enum class BlendTable {
  portions,  ///< a line for each material
  supply,    ///< a line for each nutrient and unit
  binding,   ///< a line for each rule that sets the price
  unused,    ///< a line for each material left out
  conflict,  ///< a line for each rule of a conflict
  notes,     ///< a line for each remark
};
/// Their names, in that order.
[[nodiscard]] LEASTWISE_API std::span<const std::string_view> blend_tables();
/// The table of that name; nothing when there is none.
[[nodiscard]] LEASTWISE_API std::optional<BlendTable> blend_table(std::string_view name);

/// One table of an answer as CSV (RFC 4180, LF), one observation a line. The first column is the
/// status; what is not computed or does not apply is empty, `inf` and `-inf` stand for no end and
/// for no blend beyond. Only the header where the answer has no such list.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Formulation& answer, BlendTable table);
/// The same table of every line of a comparison, with `scenario`, `status` and `currency` first.
[[nodiscard]] LEASTWISE_API std::string to_csv(const Comparison& comparison, BlendTable table);

/// Why an input was rejected, as JSON, report format version 1: a report of the kind `rejected`, for
/// who asked for one of the kind `report`.
[[nodiscard]] LEASTWISE_API std::string to_json(const InputError& error, std::string_view report);

/// That reading ended before it was known whether the input is right, as JSON: a report of the kind
/// `unread`, for who asked for one of the kind `report`.
[[nodiscard]] LEASTWISE_API std::string unread_to_json(std::string_view report, StopCause cause,
                                                       std::string_view detail);

/// The kinds of JSON reports: `blend`, `price_map`, `rejected` ...
[[nodiscard]] LEASTWISE_API std::vector<std::string> report_kinds();

/// The JSON Schema of one kind of report. Throws: std::out_of_range for a kind there is not.
[[nodiscard]] LEASTWISE_API std::string report_schema(std::string_view kind);

/// The JSON Schema of all reports, a definition for each kind.
[[nodiscard]] LEASTWISE_API std::string_view report_schemas();

}  // namespace leastwise
