#include "chemistry/materials/solubility.hpp"

#include <algorithm>
#include <string>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

struct Dissolves {
  std::string material{};
  std::string formula{};
  double g_per_l = 0;
};

std::vector<Dissolves> read_solubilities() {
  const Table table("solubilities.csv", embedded::solubilities_csv());
  std::vector<Dissolves> list;
  for (std::size_t row = 0; row < table.size(); ++row) {
    list.push_back(
        {table.text(row, "material"), table.text(row, "formula"), table.number(row, "g_per_l")});
  }
  return list;
}

}  // namespace

std::optional<double> solubility_g_per_l(const Material& material) {
  static const std::vector<Dissolves> all = read_solubilities();
  const bool built_in = !material.source.empty();
  const auto found = std::ranges::find_if(all, [&](const Dissolves& row) {
    return material.formula.empty() ? built_in && row.material == material.name
                                    : row.formula == material.formula;
  });
  if (found == all.end()) return std::nullopt;
  return found->g_per_l;
}

}  // namespace leastwise
