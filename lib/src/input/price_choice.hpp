#pragma once
#include <leastwise/draft.hpp>

#include <chrono>
#include <optional>
#include <string>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// A day, where one is stated.
using MaybeDay = std::optional<std::chrono::sys_days>;

/// One line of a price list: a quote for a material, of a supplier, in a span of days.
struct PriceLine {
  PriceDraft price{};
  MaybeDay from{};                       ///< the first day it holds; empty: always did
  MaybeDay until{};                      ///< the last; empty: no end
  std::string plant{};                   ///< to which it is delivered; empty: to each
  std::optional<PriceTierDraft> tier{};  ///< it is one price of several by quantity
  SourceSpan name{};
  SourceSpan amount{};
  std::optional<SourceSpan> freight{};
};

/// Which prices of a list are meant.
struct PricesMeant {
  MaybeDay on{};        ///< those that hold on this day
  std::string plant{};  ///< those delivered there
};

/// Of the lines of each material the one that is cheapest, delivered, among those that are meant;
/// the first of equal ones. Lines with a tier that else are alike are one offer, which must be the
/// only one. Places of what is chosen are remembered on `reader`, which also hears of materials
/// without a line, and of days and plants while none is stated.
[[nodiscard]] std::vector<PriceDraft> chosen_prices(NodeReader& reader,
                                                    const std::vector<PriceLine>& lines,
                                                    const PricesMeant& meant);

}  // namespace leastwise
