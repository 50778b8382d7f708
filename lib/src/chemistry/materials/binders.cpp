#include "chemistry/materials/binders.hpp"

#include <algorithm>
#include <utility>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

BinderNature read_nature(const Table& table, std::size_t row) {
  const std::string& word = table.text(row, "nature");
  if (word == "organic") return BinderNature::organic;
  if (word == "inorganic") return BinderNature::inorganic;
  table.reject(row, "nature", "is neither organic nor inorganic");
}

std::vector<BinderKind> read_binders() {
  const Table table("binders.csv", embedded::binders_csv());
  std::vector<BinderKind> binders;
  for (std::size_t row = 0; row < table.size(); ++row) {
    BinderKind binder;
    binder.name = table.text(row, "name");
    binder.nature = read_nature(table, row);
    binder.density_kg_per_l = table.number(row, "density_kg_per_l");
    binder.note = table.text(row, "note");
    binder.source = table.source(row);
    binders.push_back(std::move(binder));
  }
  return binders;
}

}  // namespace

std::span<const BinderKind> built_in_binders() {
  static const std::vector<BinderKind> binders = read_binders();
  return binders;
}

const BinderKind* find_binder(std::string_view name) {
  const std::span<const BinderKind> binders = built_in_binders();
  const auto found = std::ranges::find(binders, name, &BinderKind::name);
  return found == binders.end() ? nullptr : &*found;
}

}  // namespace leastwise
