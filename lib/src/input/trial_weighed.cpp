#include <leastwise/trial_check.hpp>

#include <algorithm>
#include <array>
#include <optional>
#include <utility>

#include "base/codes.hpp"
#include "base/text/csv.hpp"
#include "base/text/spreadsheet.hpp"
#include "base/text/wording.hpp"
#include "input/csv_cells.hpp"
#include "input/text_file.hpp"
#include "input/yaml/node_reader.hpp"
#include "input/yaml/number.hpp"
#include "scenario/checks.hpp"

namespace leastwise {
namespace {

enum WeighedColumn : std::size_t {
  batch_column,
  material_column,
  actual_g_column,
  lot_column,
  initials_column,
  plan_column
};

constexpr std::array<std::string_view, 6> weighed_columns{"batch", "material", "actual_g",
                                                          "lot",   "initials", "plan"};
/// The first ones must be there.
constexpr std::size_t needed_columns = 3;

/// Semicolons separate fields where spreadsheets write the decimal sign as a comma. A header with
/// semicolons and no comma says so.
char separator_of(std::string_view text) {
  const auto header = text.substr(0, text.find('\n'));
  const bool semicolons = header.find(';') != std::string_view::npos;
  return semicolons && header.find(',') == std::string_view::npos ? ';' : ',';
}

std::string trimmed_within(const CsvField& field) {
  const auto first = field.text.find_first_not_of(" \t");
  if (first == std::string::npos) return {};
  return field.text.substr(first, field.text.find_last_not_of(" \t") - first + 1);
}

class WeighedReader {
 public:
  WeighedReader(std::string name, const NodeReader::Sources& sources)
      : reader_(std::move(name), sources, places_, reading_) {}

  std::vector<Weighed> read(std::string_view text) {
    separator_ = separator_of(text);
    const CsvText csv = parse_csv(text, separator_);
    for (const auto& problem : csv.problems) {
      bad_table({problem.line, problem.column, 1}, problem.message);
    }
    if (csv.rows.empty()) {
      if (csv.problems.empty()) {
        bad_table({1, 1, 1},
                  "a list of what was weighed must begin with batch,material,actual_g, found "
                  "nothing");
      }
    } else if (read_header(csv.rows.front())) {
      for (std::size_t i = 1; i < csv.rows.size(); ++i) read_line(csv.rows[i]);
      if (weighed_.empty() && reading_.diagnostics.empty()) {
        bad_table(spot_of(csv.rows.front().fields[*columns_[actual_g_column]]),
                  "at least one line must say what was weighed in actual_g, found none");
      }
    }
    if (!reading_.diagnostics.empty()) throw InputError(std::move(reading_.diagnostics));
    return std::move(weighed_);
  }

 private:
  /// As the list was written for spreadsheets.
  static std::string name_in(const CsvField& field) {
    return std::string(text::plain_cell(trimmed_within(field)));
  }

  void bad_table(const SourceSpan& spot, std::string message) {
    reader_.error(codes::bad_table, "weighed", spot, std::move(message));
  }

  bool read_header(const CsvRow& header) {
    for (std::size_t i = 0; i < header.fields.size(); ++i) {
      const auto known = std::find(weighed_columns.begin(), weighed_columns.end(),
                                   trimmed_within(header.fields[i]));
      if (known == weighed_columns.end()) continue;
      auto& column = columns_[static_cast<std::size_t>(known - weighed_columns.begin())];
      if (column) {
        bad_table(spot_of(header.fields[i]),
                  "a column must stand once, found " + in_quotes(*known) + " again");
        return false;
      }
      column = i;
    }
    for (std::size_t c = 0; c < needed_columns; ++c) {
      if (columns_[c]) continue;
      bad_table(spot_of(header.fields.front()),
                "a list of what was weighed must have the columns batch, material and actual_g, "
                "found no " +
                    in_quotes(weighed_columns[c]));
      return false;
    }
    field_count_ = header.fields.size();
    return true;
  }

  void read_line(const CsvRow& row) {
    if (row.fields.size() != field_count_) {
      bad_table(spot_of(row.fields.front()), "this line must have " + std::to_string(field_count_) +
                                                 " fields like the first one, found " +
                                                 std::to_string(row.fields.size()));
      return;
    }
    const CsvField& field = row.fields[*columns_[actual_g_column]];
    const std::string text = trimmed_within(field);
    if (text.empty()) return;
    const NumberText number = read_number(with_point(text));
    if (!number.value) {
      reader_.error(codes::bad_number, "weighed", spot_of(field),
                    "expected a mass in g for actual_g, found " + in_quotes(text) +
                        (number.advice.empty() ? "" : "; " + number.advice));
      return;
    }
    if (*number.value < 0 || *number.value > largest_number) {
      reader_.error(codes::out_of_range, "weighed", spot_of(field),
                    "a mass must be from 0 to 1e9 g, found " + in_quotes(text));
      return;
    }
    const CsvField& code = row.fields[*columns_[batch_column]];
    weighed_.push_back({name_in(code), name_in(row.fields[*columns_[material_column]]),
                        *number.value, reader_.place_at(spot_of(code)), text_in(row, lot_column),
                        text_in(row, initials_column), text_in(row, plan_column)});
  }

  /// What stands in a column that may be missing.
  [[nodiscard]] std::string text_in(const CsvRow& row, WeighedColumn column) const {
    return columns_[column] ? name_in(row.fields[*columns_[column]]) : std::string();
  }

  /// `12,5` where the comma is the decimal sign.
  [[nodiscard]] std::string with_point(std::string text) const {
    const auto comma = text.find(',');
    const bool decimal = separator_ == ';' && comma != std::string::npos &&
                         text.find(',', comma + 1) == std::string::npos &&
                         text.find('.') == std::string::npos;
    if (decimal) text[comma] = '.';
    return text;
  }

  NodeReader::Places places_{};
  Reading reading_{};
  NodeReader reader_;
  std::array<std::optional<std::size_t>, weighed_columns.size()> columns_{};
  std::size_t field_count_ = 0;
  char separator_ = ',';
  std::vector<Weighed> weighed_{};
};

std::vector<Weighed> read_weighed(const std::string& name, TextFile file) {
  if (!file.good()) throw InputError({fault_of(name, file)});
  NodeReader::Sources sources;
  sources.emplace(name, std::move(file.lines));
  return WeighedReader(name, sources).read(file.text);
}

}  // namespace

std::vector<Weighed> load_weighed(const std::filesystem::path& file) {
  return read_weighed(file.string(), read_text_file(file));
}

std::vector<Weighed> parse_weighed(std::string_view text, std::string_view name) {
  return read_weighed(std::string(name), split_text(text));
}

}  // namespace leastwise
