#include "trial/mass.hpp"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <numeric>

namespace leastwise::trial {

std::int64_t rounded_to(double mg, std::int64_t unit_mg) {
  return static_cast<std::int64_t>(std::floor(mg / static_cast<double>(unit_mg) + 0.5)) * unit_mg;
}

std::vector<std::int64_t> parts_of(std::int64_t total_mg, std::int64_t count,
                                   std::int64_t unit_mg) {
  const std::int64_t units = total_mg / unit_mg;
  std::vector<std::int64_t> parts;
  parts.reserve(static_cast<std::size_t>(count));
  for (std::int64_t i = 0; i < count; ++i) {
    parts.push_back((units / count + (i < units % count ? 1 : 0)) * unit_mg);
  }
  return parts;
}

std::vector<std::int64_t> apportioned(std::int64_t total_mg,
                                      const std::vector<std::int64_t>& weights) {
  const auto sum =
      static_cast<double>(std::accumulate(weights.begin(), weights.end(), std::int64_t{0}));
  std::vector<std::int64_t> shares(weights.size());
  std::vector<double> remainders(weights.size());
  std::int64_t left = total_mg;
  for (std::size_t i = 0; i < weights.size(); ++i) {
    const double share = static_cast<double>(total_mg) * (static_cast<double>(weights[i]) / sum);
    shares[i] = std::min(static_cast<std::int64_t>(std::floor(share)), left);
    remainders[i] = share - static_cast<double>(shares[i]);
    left -= shares[i];
  }
  std::vector<std::size_t> order(weights.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(),
                   [&](std::size_t a, std::size_t b) { return remainders[a] > remainders[b]; });
  for (std::size_t i = 0; left > 0; i = (i + 1) % order.size()) {
    if (weights[order[i]] == 0) continue;
    ++shares[order[i]];
    --left;
  }
  return shares;
}

}  // namespace leastwise::trial
