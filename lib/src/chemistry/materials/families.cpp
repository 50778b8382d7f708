#include <leastwise/compatibility.hpp>

#include <algorithm>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

std::vector<Family> read_families() {
  const Table table("families.csv", embedded::families_csv());
  std::vector<Family> families;
  for (std::size_t row = 0; row < table.size(); ++row) {
    families.push_back(Family{table.text(row, "name"), table.text(row, "description"),
                              table.flag(row, "oxidizer"),
                              table.number(row, "most_nitrogen_percent")});
  }
  return families;
}

}  // namespace

std::span<const Family> built_in_families() {
  static const std::vector<Family> families = read_families();
  return families;
}

const Family* find_family(std::string_view name) {
  const std::span<const Family> families = built_in_families();
  const auto found = std::ranges::find(families, name, &Family::name);
  return found == families.end() ? nullptr : &*found;
}

}  // namespace leastwise
