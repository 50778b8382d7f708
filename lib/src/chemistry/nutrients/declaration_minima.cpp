#include "chemistry/nutrients/declaration_minima.hpp"

#include <leastwise/nutrient.hpp>

#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

struct MinimumRow {
  std::string rules{};
  std::string applies_to{};
  std::string nutrient{};
  double percent = 0;
  std::string source{};
};

std::vector<MinimumRow> read_minima() {
  const Table table("declaration_minima.csv", embedded::declaration_minima_csv());
  std::vector<MinimumRow> rows;
  for (std::size_t i = 0; i < table.size(); ++i) {
    MinimumRow row{table.text(i, "scheme"), table.text(i, "applies_to"), table.text(i, "nutrient"),
                   table.number(i, "min_percent"), table.source(i)};
    if (row.applies_to != "any" && row.applies_to != "straight" && row.applies_to != "compound")
      table.reject(i, "applies_to", "is no kind of label");
    rows.push_back(std::move(row));
  }
  return rows;
}

}  // namespace

std::optional<DeclarationMinimum> declaration_minimum(std::string_view rules, LabelKind kind,
                                                      std::string_view nutrient) {
  static const std::vector<MinimumRow> rows = read_minima();
  const std::string_view label = kind == LabelKind::straight ? "straight" : "compound";
  for (const MinimumRow& row : rows) {
    if (row.rules != rules || (row.applies_to != "any" && row.applies_to != label)) continue;
    if (row.nutrient == nutrient) return DeclarationMinimum{row.percent, row.source};
    if (const auto factor = conversion_factor(row.nutrient, nutrient))
      return DeclarationMinimum{row.percent * *factor, row.source};
  }
  return std::nullopt;
}

}  // namespace leastwise
