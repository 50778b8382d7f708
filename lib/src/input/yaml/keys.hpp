#pragma once
#include <cstddef>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// A key that a mapping may have, and what to do with its value.
template <class Target>
struct Key {
  std::string_view name;
  void (*read)(NodeReader& reader, const Node& value, const std::string& path, Target& target);
};

/// Says where a key that is unknown here belongs: `under blend`; empty when nowhere.
using Whereabouts = std::string (*)(std::string_view key);

/// The part of reading a mapping that does not depend on what is read: finds the key of each
/// entry, reports unknown, misplaced and repeated ones, and remembers places.
class KeyMatcher {
 public:
  KeyMatcher(NodeReader& reader, const std::string& path, std::vector<std::string_view> known,
             Whereabouts key_locations);
  /// The position of the entry's key among the known ones; nothing when it is not to be read.
  [[nodiscard]] std::optional<std::size_t> match(const NodeEntry& entry);
  /// What the numbers of the entry just matched count, where that is a unit of the text.
  [[nodiscard]] const std::optional<Measure>& measure() const { return measure_; }

 private:
  [[nodiscard]] std::string advice_for(const NodeEntry& entry) const;
  void report_unknown(const NodeEntry& entry, const std::string& path);
  /// The position of the key that the format calls `key`, in the units of the text.
  [[nodiscard]] std::optional<std::size_t> position_of(const std::string& key);
  [[nodiscard]] bool reported_us_key(const NodeEntry& entry, const std::string& path);
  [[nodiscard]] bool reported_metric_key(const NodeEntry& entry, const std::string& path);

  NodeReader& reader_;
  const std::string& path_;
  std::vector<std::string_view> known_;
  std::vector<const Node*> seen_;
  const NodeEntry* before_ = nullptr;
  std::optional<Measure> measure_{};
  Whereabouts whereabouts_;
};

/// Reads a mapping with a fixed set of keys into `target`. `example` shows the form.
template <class Target>
void read_keys(NodeReader& reader, const Node& node, const std::string& path,
               std::string_view example, std::span<const Key<Target>> keys,
               Whereabouts key_locations, Target& target) {
  if (!reader.is_mapping(node, path, example)) return;
  std::vector<std::string_view> known;
  known.reserve(keys.size());
  for (const auto& key : keys) known.push_back(key.name);
  KeyMatcher matcher(reader, path, std::move(known), key_locations);
  for (const auto& entry : node.entries) {
    if (const auto position = matcher.match(entry)) {
      // A key of the same name in all units leaves the numbers below it as the one above counts.
      std::optional<NodeReader::Scaled> scaled;
      if (matcher.measure()) scaled.emplace(reader, matcher.measure());
      keys[*position].read(reader, entry.value, path_below(path, keys[*position].name), target);
    }
  }
}

/// Reads things by name, each a mapping with a fixed set of keys, and adds them to `items`.
/// `example` shows the form of one with its name, `one` without.
template <class Item>
void read_named(NodeReader& reader, const Node& node, const std::string& path,
                std::string_view example, std::string_view one, std::span<const Key<Item>> keys,
                Whereabouts key_locations, std::string Item::*name, std::vector<Item>& items) {
  reader.names(node, path, example,
               [&](const Node& key, const Node& value, const std::string& place) {
                 Item item;
                 item.*name = key.text;
                 read_keys<Item>(reader, value, place, one, keys, key_locations, item);
                 items.push_back(std::move(item));
               });
}

}  // namespace leastwise
