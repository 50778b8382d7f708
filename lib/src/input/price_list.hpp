#pragma once
#include <leastwise/draft.hpp>

#include <string_view>
#include <vector>

#include "input/price_choice.hpp"
#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// Reads a price list: `material,price_per_t` and any of `freight_per_t`, `supplier`, `from`,
/// `until`, `plant`, `from_t`, `beyond_t` and `minimum_lot_t` as its header, then a line for each
/// material. With one of `supplier` to `beyond_t` a material may have several: of those that hold
/// for what is `meant` the cheapest is taken, and lines with `from_t` or `beyond_t` are the tiers
/// of one price. Lines that cannot be read are reported on `reader` and left out.
[[nodiscard]] std::vector<PriceDraft> read_price_list(NodeReader& reader, std::string_view text,
                                                      const PricesMeant& meant = {});

}  // namespace leastwise
