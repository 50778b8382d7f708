#include <leastwise/micronutrient.hpp>

#include <algorithm>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

std::vector<Micronutrient> read_elements() {
  const Table table("micronutrients.csv", embedded::micronutrients_csv());
  std::vector<Micronutrient> list;
  for (std::size_t row = 0; row < table.size(); ++row) {
    Micronutrient one;
    one.element = table.text(row, "element");
    one.name = table.text(row, "name");
    one.carried_from_percent = table.number(row, "carried_from_percent");
    one.granular_factor = table.number(row, "granular_factor");
    one.ceiling_kg_per_ha = table.number(row, "ceiling_kg_per_ha");
    one.source = table.source(row);
    list.push_back(std::move(one));
  }
  return list;
}

UsualRate* rate_of(Micronutrient& micronutrient, std::string_view placement) {
  if (placement == "coated") return &micronutrient.coated;
  if (placement == "granular") return &micronutrient.granular;
  return placement == "soil" ? &micronutrient.soil : nullptr;
}

std::vector<Micronutrient> read_micronutrients() {
  auto list = read_elements();
  const Table table("micronutrient_rates.csv", embedded::micronutrient_rates_csv());
  for (std::size_t row = 0; row < table.size(); ++row) {
    const auto found = std::ranges::find(list, table.text(row, "element"), &Micronutrient::element);
    if (found == list.end()) table.reject(row, "element", "is no row of micronutrients.csv");
    UsualRate* const rate = rate_of(*found, table.text(row, "placement"));
    if (rate == nullptr) table.reject(row, "placement", "is none of coated, granular, soil");
    *rate = {table.number(row, "from_kg_per_ha"), table.number(row, "to_kg_per_ha"),
             table.source(row)};
  }
  return list;
}

}  // namespace

const UsualRate& Micronutrient::usual(Placement placement) const {
  switch (placement) {
    case Placement::coated:
      return coated;
    case Placement::granular:
      return granular;
    case Placement::soil:
      break;
  }
  return soil;
}

std::span<const Micronutrient> micronutrients() {
  static const std::vector<Micronutrient> all = read_micronutrients();
  return all;
}

const Micronutrient* find_micronutrient(std::string_view element) {
  const auto all = micronutrients();
  const auto found = std::ranges::find(all, element, &Micronutrient::element);
  return found == all.end() ? nullptr : &*found;
}

}  // namespace leastwise
