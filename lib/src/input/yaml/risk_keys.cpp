#include "input/yaml/risk_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"

namespace leastwise {
namespace {

/// The keys of one uncertain price while they are read.
struct SpreadKeys {
  std::optional<double> normal{};
  std::optional<double> lognormal{};
  bool triangular = false;
  std::optional<double> min{};
  std::optional<double> mode{};
  std::optional<double> max{};
};

template <auto Field>
void take_number(NodeReader& reader, const Node& value, const std::string& path, SpreadKeys& keys) {
  keys.*Field = reader.number(value, path);
}

constexpr std::string_view triangular_example = "{min: 300, mode: 380, max: 520}";
constexpr std::array<Key<SpreadKeys>, 3> triangular_keys{{
    {"min", take_number<&SpreadKeys::min>},
    {"mode", take_number<&SpreadKeys::mode>},
    {"max", take_number<&SpreadKeys::max>},
}};

void take_triangular(NodeReader& reader, const Node& value, const std::string& path,
                     SpreadKeys& keys) {
  keys.triangular = true;
  const NodeReader::Scaled scaled(reader, Measure::price_of_goods);
  if (!reader.is_mapping(value, path, triangular_example)) return;
  read_keys<SpreadKeys>(reader, value, path, triangular_example, triangular_keys, where_it_belongs,
                        keys);
  for (const std::string_view key : {"min", "mode", "max"}) {
    if (find_entry(value, key) != nullptr) continue;
    reader.error(codes::missing_key, path, value.spot,
                 "triangular needs min, mode and max, found no " + std::string(key));
    return;
  }
}

constexpr std::array<Key<SpreadKeys>, 3> spread_keys{{
    {"lognormal_percent", take_number<&SpreadKeys::lognormal>},
    {"normal_percent", take_number<&SpreadKeys::normal>},
    {"triangular", take_triangular},
}};

void take_spread(NodeReader& reader, const Node& key, const Node& node, const std::string& path,
                 PriceUncertainty& risk) {
  constexpr std::string_view example = "{lognormal_percent: 20}";
  if (!reader.is_mapping(node, path, example)) return;
  SpreadKeys keys;
  read_keys<SpreadKeys>(reader, node, path, example, spread_keys, where_it_belongs, keys);
  int shapes = 0;
  for (const auto& known : spread_keys) shapes += find_entry(node, known.name) != nullptr ? 1 : 0;
  if (shapes != 1) {
    reader.error(codes::one_shape, path, node.spot,
                 "an uncertain price must have one of lognormal_percent, normal_percent and "
                 "triangular, found " +
                     (shapes == 0 ? std::string("none") : std::to_string(shapes)));
    return;
  }
  PriceSpread spread;
  spread.material = key.text;
  if (keys.triangular) {
    spread.shape = PriceShape::triangular;
    spread.min = keys.min.value_or(0);
    spread.mode = keys.mode.value_or(0);
    spread.max = keys.max.value_or(0);
  } else {
    spread.shape = keys.normal ? PriceShape::normal : PriceShape::lognormal;
    spread.percent = keys.normal.value_or(keys.lognormal.value_or(0));
  }
  risk.prices.push_back(std::move(spread));
}

void take_spreads(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioText& scenario) {
  reader.names(value, path, "urea: {lognormal_percent: 20}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 take_spread(reader, key, node, place, *scenario.draft.risk);
               });
}

/// One correlation while it is read.
struct CorrelationKeys {
  std::vector<std::string> between{};
  std::optional<double> r{};
};

void take_between(NodeReader& reader, const Node& value, const std::string& path,
                  CorrelationKeys& keys) {
  const auto* names = reader.list(value, path, "[urea, map]");
  if (names == nullptr) return;
  if (names->size() != 2) {
    reader.error(codes::wrong_type, path, value.spot,
                 "a correlation is between two materials, found " + std::to_string(names->size()));
    return;
  }
  for (std::size_t i = 0; i < names->size(); ++i)
    if (const auto name = reader.text((*names)[i], path_below(path, std::to_string(i))))
      keys.between.push_back(*name);
}

constexpr std::string_view correlation_example = "{between: [urea, map], r: 0.6}";
constexpr std::array<Key<CorrelationKeys>, 2> correlation_keys{{
    {"between", take_between},
    {"r", [](NodeReader& reader, const Node& value, const std::string& path,
             CorrelationKeys& keys) { keys.r = reader.number(value, path); }},
}};

void take_correlations(NodeReader& reader, const Node& value, const std::string& path,
                       ScenarioText& scenario) {
  const auto* list = reader.list(value, path, "- {between: [urea, map], r: 0.6}");
  if (list == nullptr) return;
  for (std::size_t i = 0; i < list->size(); ++i) {
    const Node& node = (*list)[i];
    const std::string place = path_below(path, std::to_string(i));
    if (!reader.is_mapping(node, place, correlation_example)) continue;
    reader.remember(place, node.spot);
    CorrelationKeys keys;
    read_keys<CorrelationKeys>(reader, node, place, correlation_example, correlation_keys,
                               where_it_belongs, keys);
    for (const auto& known : correlation_keys) {
      if (find_entry(node, known.name) != nullptr) continue;
      reader.error(codes::missing_key, place, node.spot,
                   "a correlation needs between and r, found no " + std::string(known.name));
      break;
    }
    if (keys.between.size() == 2 && keys.r)
      scenario.draft.risk->correlations.push_back({keys.between[0], keys.between[1], *keys.r});
    else
      reader.mark_unreadable(place);
  }
}

void take_draws(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioText& scenario) {
  const std::string range = " from 1 to " + std::to_string(most_draws);
  if (const auto draws = reader.whole_number(value, path, range))
    scenario.draft.risk->draws = *draws;
}

void take_seed(NodeReader& reader, const Node& value, const std::string& path,
               ScenarioText& scenario) {
  const auto seed = reader.whole_number(value, path, " from 0 to 999999999");
  if (!seed) return;
  if (*seed < 0)
    reader.error(codes::out_of_range, path, value.spot,
                 "a seed must be at least 0, found " + std::to_string(*seed));
  else
    scenario.draft.risk->seed = static_cast<std::uint64_t>(*seed);
}

void take_history(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioText& scenario) {
  if (const auto name = reader.text(value, path))
    scenario.history = NamedFile{*name, path, value.spot};
}

constexpr std::string_view risk_example = "{prices: {urea: {lognormal_percent: 20}}}";
constexpr std::array<Key<ScenarioText>, 5> risk_keys{{
    {"draws", take_draws},
    {"seed", take_seed},
    {"prices", take_spreads},
    {"correlations", take_correlations},
    {"history", take_history},
}};

/// The keys of a rate or a grade while they are read.
struct TargetKeys {
  LimitsKeys limits{};
  std::optional<double> confidence{};
  std::optional<std::string> tolerance{};
};

template <auto Take>
void take_limit(NodeReader& reader, const Node& value, const std::string& path, TargetKeys& keys) {
  Take(reader, value, path, keys.limits);
}

constexpr std::array<Key<TargetKeys>, 5> target_keys{{
    {"min", take_limit<&LimitsKeys::take_min>},
    {"max", take_limit<&LimitsKeys::take_max>},
    {"exactly", take_limit<&LimitsKeys::take_exactly>},
    {"confidence",
     [](NodeReader& reader, const Node& value, const std::string& path, TargetKeys& keys) {
       const NodeReader::Scaled plain(reader, std::nullopt);
       keys.confidence = reader.number(value, path);
     }},
    {"tolerance", [](NodeReader& reader, const Node& value, const std::string& path,
                     TargetKeys& keys) { keys.tolerance = reader.text(value, path); }},
}};

}  // namespace

void read_risk(NodeReader& reader, const Node& node, const std::string& path,
               ScenarioText& scenario) {
  if (!reader.is_mapping(node, path, risk_example)) return;
  scenario.draft.risk.emplace();
  read_keys<ScenarioText>(reader, node, path, risk_example, risk_keys, where_it_belongs, scenario);
}

TargetDraft read_target(NodeReader& reader, const Node& key, const Node& node,
                        const std::string& path) {
  TargetDraft target;
  target.nutrient = key.text;
  const bool more =
      node.kind == Node::Kind::mapping &&
      (find_entry(node, "confidence") != nullptr || find_entry(node, "tolerance") != nullptr);
  if (!more) {
    target.limits = read_limits(reader, node, path).value_or(Limits{});
    return target;
  }
  TargetKeys keys;
  read_keys<TargetKeys>(reader, node, path, "{min: 15, confidence: 0.95}", target_keys,
                        where_it_belongs, keys);
  target.limits = keys.limits.resolve(reader, node, path);
  target.confidence = keys.confidence;
  target.tolerance = keys.tolerance.value_or("");
  return target;
}

}  // namespace leastwise
