#include <array>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

/// A ratio while it is read.
struct RatioKeys {
  std::optional<std::string> of{};
  std::optional<std::string> to{};
  LimitsKeys limits{};
};

template <void (*Take)(NodeReader&, const Node&, const std::string&, LimitsKeys&)>
void take_limit(NodeReader& reader, const Node& value, const std::string& path, RatioKeys& keys) {
  Take(reader, value, path, keys.limits);
}

template <auto Field>
void take_name(NodeReader& reader, const Node& value, const std::string& path, RatioKeys& keys) {
  keys.*Field = reader.text(value, path);
}

constexpr std::array<Key<RatioKeys>, 5> ratio_keys{{
    {"of", take_name<&RatioKeys::of>},
    {"to", take_name<&RatioKeys::to>},
    {"min", take_limit<LimitsKeys::take_min>},
    {"max", take_limit<LimitsKeys::take_max>},
    {"exactly", take_limit<LimitsKeys::take_exactly>},
}};

constexpr std::string_view ratio_example = "{of: N-ammonium, to: N, min: 0.3}";

}  // namespace

void read_ratio(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioDraft& draft) {
  RatioKeys keys;
  Limits limits;
  if (reader.is_mapping(node, path, ratio_example)) {
    read_keys<RatioKeys>(reader, node, path, ratio_example, ratio_keys, where_it_belongs, keys);
    for (const std::string_view name : {"of", "to"}) {
      if (find_entry(node, name) != nullptr) continue;
      reader.error(codes::missing_key, path_below(path, name), node.spot,
                   "a ratio must say " + in_quotes(name) + ", such as " +
                       std::string(ratio_example) + ", found no such key");
    }
    limits = keys.limits.resolve(reader, node, path);
  }
  // Pushed in any case: its position is part of its path.
  draft.ratios.push_back({keys.of.value_or(""), keys.to.value_or(""), limits});
}

}  // namespace leastwise
