#pragma once
#include <leastwise/export.h>
#include <leastwise/diagnostic.hpp>
#include <leastwise/render.hpp>

#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace leastwise {

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

/// Why an input was rejected, as JSON, report format version 1: a report of the kind `rejected`,
/// for who asked for one of the kind `report`.
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
