#pragma once
#include <optional>

namespace leastwise {

/// Which tonnes a price that begins at an amount is for.
enum class TierPrice {
  all,      ///< every tonne bought, once the amount is reached: prices fall
  further,  ///< only the tonnes beyond the amount: prices rise
};

/// One price of a list by quantity. The first of a material begins at 0.
struct PriceTier {
  double from_t = 0;       ///< tonnes of the material bought for what is made
  double price_per_t = 0;  ///< currency per tonne, freight not included
};

/// The same as somebody states it: `from_t` for all tonnes, or `beyond_t` for further ones.
struct PriceTierDraft {
  std::optional<double> from_t{};       ///< from so many tonnes on every tonne costs the price
  std::optional<double> beyond_t{};     ///< each tonne beyond so many costs the price
  std::optional<double> price_per_t{};  ///< currency per tonne
};

}  // namespace leastwise
