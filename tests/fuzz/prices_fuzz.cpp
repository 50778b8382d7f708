#include <cmath>
#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <string_view>

#include "input/price_list.hpp"
#include "input/text_file.hpp"

// Any text is a price list of named materials and finite prices, or leaves a diagnostic.
extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
  const auto file =
      leastwise::split_text(std::string_view(reinterpret_cast<const char*>(data), size));
  if (!file.good()) return 0;
  leastwise::NodeReader::Sources sources;
  sources.emplace("prices.csv", file.lines);
  leastwise::NodeReader::Places places;
  leastwise::Reading reading;
  leastwise::NodeReader reader("prices.csv", sources, places, reading);
  const auto prices = leastwise::read_price_list(reader, file.text);
  if (reading.diagnostics.empty() && reading.unreadable.empty())
    for (const auto& price : prices)
      if (price.material.empty() || !std::isfinite(price.price_per_t)) std::abort();
  return 0;
}
