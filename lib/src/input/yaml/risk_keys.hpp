#pragma once
#include <leastwise/draft.hpp>

#include <optional>
#include <string>
#include <string_view>

#include "input/yaml/node_reader.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {

/// Reads the section `risk`; a history file that it names is put down to be read.
void read_risk(NodeReader& reader, const Node& node, const std::string& path,
               ScenarioText& scenario);

/// Reads a price history: the header `date,MATERIAL,...`, then one line for each date. `reader` is
/// that of the file.
[[nodiscard]] std::optional<PriceHistory> read_price_history(NodeReader& reader,
                                                             std::string_view text);

/// Reads the limits of a rate or a grade, with its `confidence` and `tolerance`.
[[nodiscard]] TargetDraft read_target(NodeReader& reader, const Node& key, const Node& node,
                                      const std::string& path);

}  // namespace leastwise
