#pragma once
#include <leastwise/price_spread.hpp>
#include <leastwise/scenario.hpp>

#include <cstddef>
#include <cstdint>
#include <vector>

#include "scenario/correlation.hpp"

namespace leastwise::analysis {

/// Draws prices. Draw number n depends on the seed and on n alone, never on other draws.
class PriceDraws {
 public:
  PriceDraws(const Scenario& scenario, const PriceUncertainty& uncertainty);

  /// Fills `prices`, along Scenario::materials(), with draw `n`.
  /// Returns: how many prices would have fallen below 0 and count as 0.
  int draw(std::uint64_t n, std::vector<double>& prices);

 private:
  struct Uncertain {
    std::size_t material = 0;
    PriceSpread spread{};
    double today = 0;
    double min_mode_share = 0;  ///< triangular: the share of values below the mode
  };
  void correlate();
  [[nodiscard]] static double price(const Uncertain& uncertain, double z, int& at_zero);

  std::uint64_t seed_ = 1;
  std::vector<double> today_{};
  /// What a lognormal price takes.
  struct Lognormal {
    std::size_t item = 0;  ///< of `uncertain_`
    std::size_t material = 0;
    double log_mean = 0;
    double log_deviation = 0;
  };
  std::vector<Uncertain> uncertain_{};
  std::vector<std::uint64_t> streams_{};  ///< tell the materials' numbers from one another
  std::vector<std::size_t> others_{};     ///< of `uncertain_`, those that are not lognormal
  std::vector<Lognormal> lognormal_{};
  std::vector<std::vector<double>> root_{};  ///< of the correlations; empty: all independent
  std::vector<double> z_{};                  ///< normal variables, one for each uncertain price
  std::vector<std::size_t> history_materials_{};
  std::vector<std::vector<double>> history_rows_{};
};

/// A well mixed 64-bit number that depends on all three.
[[nodiscard]] std::uint64_t counter_bits(std::uint64_t seed, std::uint64_t draw,
                                         std::uint64_t stream);

}  // namespace leastwise::analysis
