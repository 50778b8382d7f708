#include "input/yaml/limits_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <algorithm>
#include <array>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/number.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<Key<LimitsKeys>, 3> limits_keys{{
    {"min", LimitsKeys::take_min},
    {"max", LimitsKeys::take_max},
    {"exactly", LimitsKeys::take_exactly},
}};

}  // namespace

void LimitsKeys::take_min(NodeReader& reader, const Node& value, const std::string& path,
                          LimitsKeys& keys) {
  keys.min = reader.number(value, path);
}

void LimitsKeys::take_max(NodeReader& reader, const Node& value, const std::string& path,
                          LimitsKeys& keys) {
  keys.max = reader.number(value, path);
}

void LimitsKeys::take_exactly(NodeReader& reader, const Node& value, const std::string& path,
                              LimitsKeys& keys) {
  keys.exactly = reader.number(value, path);
}

const NodeEntry* find_entry(const Node& mapping, std::string_view key) {
  const auto found =
      std::find_if(mapping.entries.begin(), mapping.entries.end(), [key](const NodeEntry& entry) {
        return entry.key.kind == Node::Kind::scalar && entry.key.text == key;
      });
  return found == mapping.entries.end() ? nullptr : &*found;
}

Limits LimitsKeys::resolve(NodeReader& reader, const Node& mapping, const std::string& path) const {
  Limits limits;
  const NodeEntry* both = find_entry(mapping, "exactly");
  const NodeEntry* one = find_entry(mapping, "min");
  if (one == nullptr) one = find_entry(mapping, "max");
  if (both != nullptr && one != nullptr) {
    reader.error(codes::exactly_excludes, path, both->key.spot,
                 "exactly sets both limits and must stand alone, found " + one->key.text +
                     " beside it; keep one of the two");
    return limits;
  }
  if (exactly) limits = {*exactly, *exactly};
  if (min) limits.min = *min;
  if (max) limits.max = *max;
  return limits;
}

std::optional<Limits> read_limits(NodeReader& reader, const Node& node, const std::string& path) {
  if (node.kind == Node::Kind::scalar && node.plain && read_number(node.text).value) {
    reader.error(codes::wrong_type, path, node.spot,
                 "expected limits for " + key_of(path) + ", found " + in_quotes(node.text) +
                     "; write {min: " + node.text + "}, {max: " + node.text +
                     "} or {exactly: " + node.text + "}");
    return std::nullopt;
  }
  LimitsKeys keys;
  if (!reader.is_mapping(node, path, "{min: 60, max: 66} or {exactly: 30}")) return std::nullopt;
  read_keys<LimitsKeys>(reader, node, path, "{min: 60}", limits_keys, where_it_belongs, keys);
  return keys.resolve(reader, node, path);
}

}  // namespace leastwise
