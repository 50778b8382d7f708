#pragma once
#include <leastwise/limits.hpp>

#include <optional>
#include <string>
#include <string_view>

#include "input/yaml/node_reader.hpp"

namespace leastwise {

/// Reads `{min: 1, max: 2}` or `{exactly: 3}`.
[[nodiscard]] std::optional<Limits> read_limits(NodeReader& reader, const Node& node,
                                                const std::string& path);

/// The keys of limits while they are read, also among the keys of something larger.
struct LimitsKeys {
  std::optional<double> min{};
  std::optional<double> max{};
  std::optional<double> exactly{};

  static void take_min(NodeReader& reader, const Node& value, const std::string& path,
                       LimitsKeys& keys);
  static void take_max(NodeReader& reader, const Node& value, const std::string& path,
                       LimitsKeys& keys);
  static void take_exactly(NodeReader& reader, const Node& value, const std::string& path,
                           LimitsKeys& keys);

  /// The limits they state; reports `exactly` beside another side. `mapping` holds the keys.
  [[nodiscard]] Limits resolve(NodeReader& reader, const Node& mapping,
                               const std::string& path) const;
};

/// The entry of `mapping` with that key, or null.
[[nodiscard]] const NodeEntry* find_entry(const Node& mapping, std::string_view key);

}  // namespace leastwise
