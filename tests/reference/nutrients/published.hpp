#pragma once
#include <leastwise/formula.hpp>

#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "chemistry/nutrients/data_table.hpp"

namespace leastwise::published {

/// A table of tests/reference/data. Throws: std::runtime_error when it cannot be read.
[[nodiscard]] Table table(const std::string& file_name);

/// `21`, `0.85` or `4-8`: a value or a range, with the half unit of the last printed digit that
/// rounding leaves open on either side. Nothing for an empty text.
struct Range {
  double min = 0;
  double max = 0;
};
[[nodiscard]] std::optional<Range> printed_range(std::string_view text);

/// Percent of `name` among `contents`, 0 when it is not there.
[[nodiscard]] double percent_of(const std::vector<Content>& contents, std::string_view name);

/// `calcium ammonium nitrate` as `calcium-ammonium-nitrate`.
[[nodiscard]] std::string kebab(std::string text);

}  // namespace leastwise::published
