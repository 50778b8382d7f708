#include <leastwise/catalogue.hpp>
#include <leastwise/nutrient.hpp>

#include <algorithm>
#include <string>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

constexpr std::string_view separator = "; ";

Form read_form(const Table& table, std::size_t row) {
  for (const Form form : {Form::granule, Form::powder, Form::crystal, Form::fines}) {
    if (table.text(row, "form") == to_string(form)) return form;
  }
  table.reject(row, "form", "is not a form");
}

/// `Zn 20` as a content.
Content read_content(const Table& table, std::size_t row, std::string_view item) {
  const std::size_t space = item.find(' ');
  const std::string_view name = item.substr(0, space);
  const std::optional<double> percent =
      space == std::string_view::npos ? std::nullopt : parse_number(item.substr(space + 1));
  if (!percent || kind_of(name) == NameKind::property) {
    table.reject(row, "contains_percent", "is not a list of names with percentages");
  }
  return Content{std::string(name), *percent};
}

/// `N 46; N-urea 46` as contents; an empty list for an empty text.
std::vector<Content> read_contents(const Table& table, std::size_t row) {
  std::vector<Content> contents;
  std::string_view rest = table.text(row, "contains_percent");
  while (!rest.empty()) {
    const std::size_t end = rest.find(separator);
    contents.push_back(read_content(table, row, rest.substr(0, end)));
    rest = end == std::string_view::npos ? "" : rest.substr(end + separator.size());
  }
  return contents;
}

Material read_material(const Table& table, std::size_t row) {
  Material material;
  material.name = table.text(row, "name");
  material.form = read_form(table, row);
  material.family = table.text(row, "family");
  const std::string& formula = table.text(row, "formula");
  material.formula = formula;
  material.contains_percent =
      formula.empty() ? read_contents(table, row)
                      : contents_of_formula(formula, table.number(row, "purity_percent"));
  if (!formula.empty() && !table.text(row, "contains_percent").empty()) {
    table.reject(row, "formula", "stands beside contents");
  }
  material.sgn = table.optional_number(row, "sgn");
  material.ui = table.optional_number(row, "ui");
  material.bulk_density_kg_per_m3 = table.optional_number(row, "bulk_density_kg_per_m3");
  material.micronutrient_granule = table.flag(row, "micronutrient_granule");
  material.source = table.source(row);
  return material;
}

std::vector<Material> read_materials() {
  const Table table("materials.csv", embedded::materials_csv());
  std::vector<Material> materials;
  for (std::size_t row = 0; row < table.size(); ++row) {
    materials.push_back(read_material(table, row));
  }
  return materials;
}

}  // namespace

std::span<const Material> built_in_materials() {
  static const std::vector<Material> materials = read_materials();
  return materials;
}

const Material* find_built_in_material(std::string_view name) {
  const std::span<const Material> materials = built_in_materials();
  const auto found = std::ranges::find(materials, name, &Material::name);
  return found == materials.end() ? nullptr : &*found;
}

}  // namespace leastwise
