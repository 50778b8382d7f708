#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <map>
#include <string>

#include "base/embedded.hpp"
#include "chemistry/nutrients/composition.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

using ShareByOxide = std::map<std::string, double, std::less<>>;

/// Mass of element in one mass of each oxide, from the oxide's own formula.
ShareByOxide shares_from_atomic_weights() {
  ShareByOxide shares;
  for (const std::string_view name : known_names()) {
    if (kind_of(name) != NameKind::oxide) continue;
    const std::string_view element = *element_of(name);
    const Composition composition = composition_of(name);
    const double mass = composition.atoms.find(element)->second * *atomic_weight(element);
    shares.emplace(name, mass / mass_of(composition));
  }
  return shares;
}

/// Mass of element in one mass of each oxide, as the regulation prints it.
ShareByOxide shares_from_regulation() {
  const Table table("conversion_factors.csv", embedded::conversion_factors_csv());
  ShareByOxide shares;
  for (std::size_t row = 0; row < table.size(); ++row) {
    const std::string& oxide = table.text(row, "oxide");
    if (kind_of(oxide) != NameKind::oxide || *element_of(oxide) != table.text(row, "element")) {
      table.reject(row, "oxide", "does not belong to the element");
    }
    if (!shares.emplace(oxide, table.number(row, "element_per_oxide")).second) {
      table.reject(row, "oxide", "stands twice");
    }
  }
  return shares;
}

/// Mass of element in one mass of `name`, an element or an oxide.
std::optional<double> element_share(std::string_view name, FactorSource source) {
  if (kind_of(name) == NameKind::element) return 1.0;
  static const ShareByOxide calculated = shares_from_atomic_weights();
  static const ShareByOxide printed = shares_from_regulation();
  const ShareByOxide& shares = source == FactorSource::atomic_weights ? calculated : printed;
  const auto found = shares.find(name);
  if (found == shares.end()) return {};
  return found->second;
}

}  // namespace

std::optional<double> conversion_factor(std::string_view from, std::string_view to,
                                        FactorSource source) {
  if (from == to) return 1.0;
  const std::optional<std::string_view> element = element_of(from);
  if (!element || element != element_of(to)) return {};
  const std::optional<double> from_share = element_share(from, source);
  const std::optional<double> to_share = element_share(to, source);
  if (!from_share || !to_share) return {};
  return *from_share / *to_share;
}

}  // namespace leastwise
