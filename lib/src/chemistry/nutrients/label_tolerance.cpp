#include <leastwise/nutrient.hpp>
#include <leastwise/tolerance.hpp>

#include <algorithm>
#include <cmath>
#include <sstream>
#include <stdexcept>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

struct Row {
  LabelTolerance scheme = LabelTolerance::aafco;
  int primary = 0;  ///< only for labels with so many primary nutrients; 0: any
  std::vector<std::string> nutrients{};
  std::optional<double> from{};
  std::optional<double> to{};
  std::optional<double> lower_share{}, lower_points{}, lower_cap{};
  std::optional<double> upper_share{}, upper_points{}, upper_cap{};
  std::string source{};
  bool seen = false;

  [[nodiscard]] bool has(std::string_view name) const {
    return std::find(nutrients.begin(), nutrients.end(), name) != nutrients.end();
  }
  /// A row for one guarantee, to be interpolated with its neighbours.
  [[nodiscard]] bool is_point() const { return from && to && *from == *to; }
};

std::vector<std::string> words(const std::string& text) {
  std::istringstream stream(text);
  std::vector<std::string> list;
  for (std::string word; stream >> word;) list.push_back(word);
  return list;
}

int primary_of(const Table& table, std::size_t row) {
  const std::string& text = table.text(row, "applies_to");
  if (text == "any") return 0;
  if (text == "straight") return 1;
  if (text == "two-nutrients") return 2;
  if (text == "three-nutrients") return 3;
  table.reject(row, "applies_to", "is no kind of label");
}

std::vector<Row> read_rows() {
  const Table table("label_tolerances.csv", embedded::label_tolerances_csv());
  std::vector<Row> rows;
  for (std::size_t i = 0; i < table.size(); ++i) {
    Row row;
    const std::string& scheme = table.text(i, "scheme");
    if (scheme != "eu-2019-1009" && scheme != "us-investigational-allowance")
      table.reject(i, "scheme", "is unknown");
    row.scheme = scheme == "eu-2019-1009" ? LabelTolerance::eu_2019_1009 : LabelTolerance::aafco;
    row.primary = primary_of(table, i);
    row.nutrients = words(table.text(i, "nutrients"));
    row.from = table.optional_number(i, "declared_from_percent");
    row.to = table.optional_number(i, "declared_to_percent");
    row.lower_share = table.optional_number(i, "lower_share_of_declared_percent");
    row.lower_points = table.optional_number(i, "lower_points");
    row.lower_cap = table.optional_number(i, "lower_cap_points");
    row.upper_share = table.optional_number(i, "upper_share_of_declared_percent");
    row.upper_points = table.optional_number(i, "upper_points");
    row.upper_cap = table.optional_number(i, "upper_cap_points");
    row.source = table.source(i);
    row.seen = table.text(i, "status") == "seen";
    rows.push_back(std::move(row));
  }
  return rows;
}

const std::vector<Row>& rows() {
  static const std::vector<Row> all = read_rows();
  return all;
}

std::optional<double> points(const std::optional<double>& share, const std::optional<double>& fixed,
                             const std::optional<double>& cap, double declared) {
  if (!share && !fixed) return std::nullopt;
  const double sum = share.value_or(0) / 100 * declared + fixed.value_or(0);
  return cap ? std::min(sum, *cap) : sum;
}

/// Between the guarantees that the table lists; below them the first. Above the last there is none:
/// what the scheme says there was not to be had.
std::optional<Allowance> interpolated(const std::vector<const Row*>& list, double declared) {
  const Row* before = nullptr;
  const Row* after = nullptr;
  for (const Row* row : list) {
    if (*row->from <= declared && (before == nullptr || *row->from > *before->from)) before = row;
    if (*row->from >= declared && (after == nullptr || *row->from < *after->from)) after = row;
  }
  if (before == nullptr) before = after;
  if (after == nullptr) return std::nullopt;
  const double width = *after->from - *before->from;
  const double part = width > 0 ? (declared - *before->from) / width : 0;
  return Allowance{*before->lower_points + part * (*after->lower_points - *before->lower_points),
                   {},
                   before->source,
                   before->seen && after->seen};
}

std::optional<Allowance> find(LabelTolerance scheme, std::string_view nutrient, double declared,
                              int primary) {
  std::vector<const Row*> point_rows;
  for (const Row& row : rows()) {
    if (row.scheme != scheme || !row.has(nutrient)) continue;
    if (row.primary != 0 && row.primary != primary) continue;
    if (row.is_point()) {
      point_rows.push_back(&row);
      continue;
    }
    // A row holds up to and including its upper end; the lower end belongs to the row before it,
    // except for an open row of a table of single guarantees.
    const bool above = !row.from || declared > *row.from || (*row.from == 0 && declared == 0) ||
                       (!row.to && !point_rows.empty() && declared >= *row.from);
    if (!above || (row.to && declared > *row.to)) continue;
    const auto below = points(row.lower_share, row.lower_points, row.lower_cap, declared);
    if (!below) continue;
    return Allowance{*below, points(row.upper_share, row.upper_points, row.upper_cap, declared),
                     row.source, row.seen};
  }
  if (point_rows.empty()) return std::nullopt;
  return interpolated(point_rows, declared);
}

}  // namespace

std::string_view to_string(LabelTolerance tolerance) {
  return tolerance == LabelTolerance::aafco ? "aafco" : "eu-2019-1009";
}

std::optional<LabelTolerance> label_tolerance(std::string_view name) {
  for (const auto known : {LabelTolerance::aafco, LabelTolerance::eu_2019_1009})
    if (name == to_string(known)) return known;
  return std::nullopt;
}

std::optional<Allowance> allowance(LabelTolerance tolerance, std::string_view nutrient,
                                   double declared_percent, int primary_nutrients) {
  if (!(declared_percent >= 0 && declared_percent <= 100))
    throw std::invalid_argument("a declared content must lie between 0 and 100 percent");
  if (auto found = find(tolerance, nutrient, declared_percent, primary_nutrients)) return found;
  for (const auto& name : nutrients_of(tolerance)) {
    const auto factor = conversion_factor(nutrient, name);
    if (!factor || name == nutrient) continue;
    auto found = find(tolerance, name, declared_percent * *factor, primary_nutrients);
    if (!found) continue;
    found->below /= *factor;
    if (found->above) *found->above /= *factor;
    return found;
  }
  return std::nullopt;
}

std::vector<std::string> nutrients_of(LabelTolerance tolerance) {
  std::vector<std::string> names;
  for (const Row& row : rows()) {
    if (row.scheme != tolerance) continue;
    for (const auto& name : row.nutrients)
      if (std::find(names.begin(), names.end(), name) == names.end()) names.push_back(name);
  }
  return names;
}

}  // namespace leastwise
