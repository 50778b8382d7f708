#include "analysis/risk/risk_draws.hpp"

#include <algorithm>
#include <cmath>
#include <string_view>

#include "base/numeric/normal_quantile.hpp"

namespace leastwise::analysis {
namespace {

constexpr std::uint64_t golden = 0x9e3779b97f4a7c15ULL;
constexpr std::uint64_t history_stream = 0x6469737472696374ULL;

/// The finalizer of splitmix64 (Steele, Lea and Flood 2014; public domain code by Vigna).
std::uint64_t mixed(std::uint64_t z) {
  z = (z ^ (z >> 30U)) * 0xbf58476d1ce4e5b9ULL;
  z = (z ^ (z >> 27U)) * 0x94d049bb133111ebULL;
  return z ^ (z >> 31U);
}

std::uint64_t bits_of_draw(std::uint64_t seed, std::uint64_t draw) {
  return mixed(mixed(seed + golden) + (draw + 1) * golden);
}

/// Strictly between 0 and 1, symmetric around a half.
double open_unit(std::uint64_t bits) { return (static_cast<double>(bits >> 12U) + 0.5) * 0x1p-52; }

/// A number that depends on the letters alone, so that adding a material leaves the numbers of the
/// others as they were (FNV-1a, 64 bits).
std::uint64_t stream_of(std::string_view name) {
  std::uint64_t hash = 0xcbf29ce484222325ULL;
  for (const char letter : name) {
    hash ^= static_cast<unsigned char>(letter);
    hash *= 0x100000001b3ULL;
  }
  return hash;
}

}  // namespace

std::uint64_t counter_bits(std::uint64_t seed, std::uint64_t draw, std::uint64_t stream) {
  return mixed(bits_of_draw(seed, draw) ^ mixed(stream + golden));
}

PriceDraws::PriceDraws(const Scenario& scenario, const PriceUncertainty& uncertainty)
    : seed_(uncertainty.seed.value_or(1)) {
  for (const auto& material : scenario.materials()) today_.push_back(material.price_per_t);
  const bool apart = std::all_of(uncertainty.correlations.begin(), uncertainty.correlations.end(),
                                 [](const PriceCorrelation& pair) { return pair.r == 0; });
  if (!apart) root_ = correlation_root(correlation_matrix(uncertainty)).rows;
  for (std::size_t k = 0; k < uncertainty.prices.size(); ++k) {
    Uncertain item;
    item.spread = uncertainty.prices[k];
    item.material = scenario.index_of(item.spread.material).value_or(0);
    item.today = today_[item.material];
    streams_.push_back(mixed(stream_of(item.spread.material) + golden));
    if (item.spread.shape == PriceShape::lognormal) {
      const double share = item.spread.percent / 100;
      const double deviation = std::sqrt(std::log1p(share * share));
      lognormal_.push_back(
          {k, item.material, std::log(item.today) - deviation * deviation / 2, deviation});
    } else {
      others_.push_back(k);
    }
    if (item.spread.shape == PriceShape::triangular)
      item.min_mode_share =
          (item.spread.mode - item.spread.min) / (item.spread.max - item.spread.min);
    uncertain_.push_back(std::move(item));
  }
  z_.resize(uncertain_.size());
  if (!uncertainty.history) return;
  for (const auto& name : uncertainty.history->materials)
    history_materials_.push_back(scenario.index_of(name).value_or(0));
  history_rows_ = uncertainty.history->rows;
}

double PriceDraws::price(const Uncertain& uncertain, double z, int& at_zero) {
  const auto& spread = uncertain.spread;
  switch (spread.shape) {
    case PriceShape::lognormal:
      return uncertain.today;  // worked out many at a time
    case PriceShape::normal: {
      const double drawn = uncertain.today + std::fabs(uncertain.today) * spread.percent / 100 * z;
      if (drawn >= 0 || uncertain.today < 0) return drawn;
      ++at_zero;
      return 0;
    }
    case PriceShape::triangular:
      break;
  }
  const double u = normal_share_below(z);
  const double width = spread.max - spread.min;
  if (u < uncertain.min_mode_share)
    return spread.min + std::sqrt(u * width * (spread.mode - spread.min));
  return spread.max - std::sqrt((1 - u) * width * (spread.max - spread.mode));
}

/// Turns independent normal variables into correlated ones, from the last backwards.
void PriceDraws::correlate() {
  for (std::size_t k = root_.size(); k-- > 0;) {
    double z = 0;
    for (std::size_t j = 0; j <= k; ++j) z += root_[k][j] * z_[j];
    z_[k] = z;
  }
}

int PriceDraws::draw(std::uint64_t n, std::vector<double>& prices) {
  prices = today_;
  int at_zero = 0;
  const std::uint64_t own = bits_of_draw(seed_, n);
  if (!history_rows_.empty()) {
    const auto& row = history_rows_[mixed(own ^ history_stream) % history_rows_.size()];
    for (std::size_t k = 0; k < history_materials_.size(); ++k)
      prices[history_materials_[k]] = row[k];
  }
  for (std::size_t k = 0; k < z_.size(); ++k) z_[k] = open_unit(mixed(own ^ streams_[k]));
  normal_quantiles(z_);
  correlate();
  for (const std::size_t k : others_)
    prices[uncertain_[k].material] = price(uncertain_[k], z_[k], at_zero);
  for (const auto& item : lognormal_)
    prices[item.material] = std::exp(item.log_mean + item.log_deviation * z_[item.item]);
  return at_zero;
}

}  // namespace leastwise::analysis
