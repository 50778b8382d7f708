#include "insight/compare_indices.hpp"

#include <leastwise/catalogue.hpp>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

#include "nutrients/embedded.hpp"
#include "nutrients/table.hpp"

namespace leastwise::insight {
namespace {

/// Which published substance a built-in material is a fertilizer grade of.
struct Grade {
  std::string_view built_in;
  std::string_view salt_substance;
  std::string_view acidity_substance;
};

constexpr std::array<Grade, 14> grades{{
    {"urea", "urea", "urea"},
    {"ammonium-nitrate", "ammonium-nitrate", "ammonium-nitrate"},
    {"ammonium-sulfate", "ammonium-sulfate", "ammonium-sulfate"},
    {"calcium-nitrate", "calcium-nitrate", "calcium-nitrate"},
    {"sodium-nitrate", "sodium-nitrate", "sodium-nitrate"},
    {"map", "monoammonium-phosphate", "monoammonium-phosphate"},
    {"dap", "diammonium-phosphate", "diammonium-phosphate"},
    {"tsp", "triple-superphosphate", ""},
    {"ssp", "single-superphosphate", ""},
    {"mop", "potassium-chloride", ""},
    {"sop", "potassium-sulfate", "potassium-sulfate"},
    {"potassium-nitrate", "potassium-nitrate", "potassium-nitrate"},
    {"gypsum", "calcium-sulfate", "gypsum"},
    {"limestone-filler", "calcium-carbonate", ""},
}};

/// A lot may differ from the typical grade by so many percentage points of N, P2O5 or K2O.
constexpr double same_grade = 1.5;

bool is_of_grade(const Material& material, const Grade& grade) {
  const Material* typical = find_built_in_material(grade.built_in);
  if (typical == nullptr || typical->family != material.family) return false;
  constexpr std::array<std::string_view, 3> nutrients{"N", "P2O5", "K2O"};
  return std::ranges::all_of(nutrients, [&](std::string_view nutrient) {
    return std::fabs(content_percent(material, nutrient) - content_percent(*typical, nutrient)) <=
           same_grade;
  });
}

using Published = std::map<std::string, double, std::less<>>;

Published read(std::string_view file, std::string_view text, std::string_view column) {
  const Table table(file, text);
  Published published;
  for (std::size_t row = 0; row < table.size(); ++row)
    if (const auto value = table.optional_number(row, column))
      published.emplace(table.text(row, "substance"), *value);
  return published;
}

BlendIndex index_of(const Scenario& scenario, const Blend& blend, const Published& published,
                    std::string_view Grade::*substance) {
  BlendIndex index;
  double sum = 0;
  for (const auto& portion : blend.portions) {
    const auto& material = scenario.materials()[*scenario.index_of(portion.material)];
    const double* value = nullptr;
    for (const auto& grade : grades) {
      if ((grade.*substance).empty() || !is_of_grade(material, grade)) continue;
      const auto found = published.find(grade.*substance);
      if (found != published.end()) value = &found->second;
    }
    if (value == nullptr) {
      index.unknown.push_back(portion.material);
      continue;
    }
    sum += *value * portion.kg_per_t;
    index.known_percent += portion.kg_per_t / 10;
  }
  if (index.known_percent > 0) index.value = sum / (index.known_percent * 10);
  return index;
}

}  // namespace

BlendIndex salt_index_of(const Scenario& scenario, const Blend& blend) {
  static const Published published =
      read("salt_index.csv", embedded::salt_index_csv(), "salt_index");
  return index_of(scenario, blend, published, &Grade::salt_substance);
}

BlendIndex acidity_of(const Scenario& scenario, const Blend& blend) {
  static const Published published =
      read("acidity.csv", embedded::acidity_csv(), "kg_caco3_per_100_kg");
  return index_of(scenario, blend, published, &Grade::acidity_substance);
}

}  // namespace leastwise::insight
