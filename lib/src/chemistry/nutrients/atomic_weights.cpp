#include <leastwise/nutrient.hpp>

#include <map>
#include <string>

#include "base/embedded.hpp"
#include "chemistry/nutrients/data_table.hpp"

namespace leastwise {
namespace {

using WeightsBySymbol = std::map<std::string, double, std::less<>>;

WeightsBySymbol read_weights() {
  const Table table("atomic_weights.csv", embedded::atomic_weights_csv());
  WeightsBySymbol weights;
  for (std::size_t row = 0; row < table.size(); ++row) {
    const double weight = table.number(row, "atomic_weight");
    if (weight <= 0) table.reject(row, "atomic_weight", "is not positive");
    if (!weights.emplace(table.text(row, "symbol"), weight).second) {
      table.reject(row, "symbol", "stands twice");
    }
  }
  return weights;
}

}  // namespace

std::optional<double> atomic_weight(std::string_view symbol) {
  static const WeightsBySymbol weights = read_weights();
  const auto found = weights.find(symbol);
  if (found == weights.end()) return {};
  return found->second;
}

}  // namespace leastwise
