#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace leastwise {

/// How a price spreads around what it is today.
enum class PriceShape {
  normal,      ///< mean: today's price; draws below 0 count as 0 unless today's price is below 0
  lognormal,   ///< mean: today's price (the spread shifts the median down, not the mean up)
  triangular,  ///< from `min` over the likeliest `mode` to `max`, whatever today's price is
};

/// How uncertain the price of one material is. Freight stays as it is.
struct PriceSpread {
  std::string material{};                    ///< whose price it is
  PriceShape shape = PriceShape::lognormal;  ///< which distribution
  double percent = 0;  ///< normal, lognormal: standard deviation as percent of today's price
  double min = 0;      ///< triangular: currency per tonne
  double mode = 0;     ///< triangular: the likeliest
  double max = 0;      ///< triangular: the highest

  /// Equal in every field.
  friend bool operator==(const PriceSpread&, const PriceSpread&) = default;
};

/// How two uncertain prices move together: the correlation of the normal variables behind them
/// (for two lognormal prices that of their logarithms; a Gaussian copula for triangular ones).
struct PriceCorrelation {
  std::string first{};   ///< one material
  std::string second{};  ///< the other
  double r = 0;          ///< -1 to 1

  /// Equal in every field.
  friend bool operator==(const PriceCorrelation&, const PriceCorrelation&) = default;
};

/// Prices as they once stood: whole rows are drawn, so what moved together stays together.
struct PriceHistory {
  std::vector<std::string> materials{};     ///< one for each column
  std::vector<std::string> dates{};         ///< one for each row
  std::vector<std::vector<double>> rows{};  ///< price per tonne of each material

  /// Equal in every field.
  friend bool operator==(const PriceHistory&, const PriceHistory&) = default;
};

/// What a scenario says of the uncertainty of its prices. Materials not named keep their price.
struct PriceUncertainty {
  std::optional<long> draws{};                   ///< 1 to 10 000 000; default 10 000
  std::optional<std::uint64_t> seed{};           ///< default 1
  std::vector<PriceSpread> prices{};             ///< by material
  std::vector<PriceCorrelation> correlations{};  ///< pairs that are not listed: 0
  std::optional<PriceHistory> history{};         ///< for the materials it names

  /// Equal in every field.
  friend bool operator==(const PriceUncertainty&, const PriceUncertainty&) = default;
};

/// How many sets of prices are drawn where the scenario does not say: the standard error of a mean
/// is then one hundredth of the standard deviation.
inline constexpr long default_draws = 10'000;
/// The most that may be asked for: every draw is kept in memory.
inline constexpr long most_draws = 10'000'000;

}  // namespace leastwise
