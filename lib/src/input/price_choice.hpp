#pragma once
#include <leastwise/draft.hpp>

#include <chrono>
#include <optional>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// A day, where one is stated.
using MaybeDay = std::optional<std::chrono::sys_days>;

/// One line of a price list: a quote for a material, of a supplier, in a span of days.
struct PriceLine {
  PriceDraft price{};
  MaybeDay from{};   ///< the first day it holds; empty: always did
  MaybeDay until{};  ///< the last; empty: no end
  SourceSpan name{};
  SourceSpan amount{};
  std::optional<SourceSpan> freight{};
};

/// Of the lines of each material the one that is cheapest, delivered, among those that hold on the
/// day `on`; the first of equal ones. Places of what is chosen are remembered on `reader`, which
/// also hears of materials without a line for that day, and of dates while no day is stated.
[[nodiscard]] std::vector<PriceDraft> chosen_prices(NodeReader& reader,
                                                    const std::vector<PriceLine>& lines,
                                                    const MaybeDay& on);

}  // namespace leastwise
