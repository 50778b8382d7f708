#include "trial/balances.hpp"

#include <algorithm>
#include <cmath>
#include <tuple>

#include "trial/mass.hpp"

namespace leastwise::trial {

std::int64_t readability_mg(const Balance& balance) {
  return std::max<std::int64_t>(1, std::llround(balance.readability_g * mg_per_g));
}

const Balance& balance_for(std::span<const Balance> balances, double mg) {
  const auto rank = [mg](const Balance& balance) {
    const bool carries = balance.capacity_kg * mg_per_kg >= mg;
    const double first = carries ? balance.readability_g : -balance.capacity_kg;
    const double second = carries ? balance.capacity_kg : balance.readability_g;
    return std::tuple(!carries, first, second);
  };
  return *std::min_element(
      balances.begin(), balances.end(),
      [&rank](const Balance& a, const Balance& b) { return rank(a) < rank(b); });
}

std::vector<std::int64_t> weighing_parts(const Balance& balance, std::int64_t mass_mg) {
  const std::int64_t unit = readability_mg(balance);
  const auto most =
      std::max<std::int64_t>(1, static_cast<std::int64_t>(balance.capacity_kg * mg_per_kg) / unit);
  const std::int64_t units = mass_mg / unit;
  return parts_of(mass_mg, std::max<std::int64_t>(1, (units + most - 1) / most), unit);
}

}  // namespace leastwise::trial
