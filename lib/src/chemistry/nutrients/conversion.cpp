#include <leastwise/formula.hpp>
#include <leastwise/nutrient.hpp>

#include <map>
#include <string>
#include <vector>

#include "base/embedded.hpp"
#include "chemistry/nutrients/composition.hpp"
#include "chemistry/nutrients/data_table.hpp"
#include "chemistry/nutrients/name_position.hpp"

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

/// Which element a known name counts, and how much of it is in one mass of that name.
struct Share {
  std::size_t element = 0;
  double of_mass = 0;  ///< 0: a form, which is counted as itself alone
};

/// Along `known_names()`.
std::vector<Share> shares_of_names(const ShareByOxide& shares) {
  std::vector<Share> list;
  for (const std::string_view name : known_names()) {
    const auto element = element_of(name);
    const auto oxide = shares.find(name);
    Share share;
    if (element) share.element = position_of_name(*element);
    if (kind_of(name) == NameKind::element) share.of_mass = 1;
    if (oxide != shares.end()) share.of_mass = oxide->second;
    list.push_back(share);
  }
  return list;
}

const std::vector<Share>& shares_by(FactorSource source) {
  static const auto calculated = shares_of_names(shares_from_atomic_weights());
  static const auto printed = shares_of_names(shares_from_regulation());
  return source == FactorSource::atomic_weights ? calculated : printed;
}

}  // namespace

std::optional<double> conversion_factor(std::string_view from, std::string_view to,
                                        FactorSource source) {
  if (from == to) return 1.0;
  const auto from_position = position_of_name(from);
  const auto to_position = position_of_name(to);
  const auto& shares = shares_by(source);
  if (from_position >= shares.size() || to_position >= shares.size()) return {};
  const Share& from_share = shares[from_position];
  const Share& to_share = shares[to_position];
  if (from_share.of_mass == 0 || to_share.of_mass == 0) return {};
  if (from_share.element != to_share.element) return {};
  return from_share.of_mass / to_share.of_mass;
}

}  // namespace leastwise
