#pragma once
#include <leastwise/draft.hpp>

#include <string_view>
#include <vector>

#include "input/price_choice.hpp"
#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// Reads a price list: `material,price_per_t` and any of `freight_per_t`, `supplier`, `from` and
/// `until` as its header, then a line for each material; with one of the last three a material may
/// have several, of which the cheapest that holds on the day `on` is taken. Lines that cannot be
/// read are reported on `reader` and left out.
[[nodiscard]] std::vector<PriceDraft> read_price_list(NodeReader& reader, std::string_view text,
                                                      const MaybeDay& on = {});

}  // namespace leastwise
