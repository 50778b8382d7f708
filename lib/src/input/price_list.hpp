#pragma once
#include <leastwise/draft.hpp>

#include <string_view>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// Reads a price list: `material,price_per_t[,freight_per_t]` as its header, then a line for each
/// material. Lines that cannot be read are reported on `page` and left out.
[[nodiscard]] std::vector<PriceDraft> read_price_list(Page& page, std::string_view text);

}  // namespace leastwise
