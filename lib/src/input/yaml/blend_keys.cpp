#include <array>

#include "base/codes.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<Key<BinderDraft>, 4> binder_keys{{
    {"material",
     [](NodeReader& reader, const Node& value, const std::string& path, BinderDraft& binder) {
       if (auto name = reader.text(value, path)) binder.material = std::move(*name);
     }},
    {"percent_of_powder",
     [](NodeReader& reader, const Node& value, const std::string& path, BinderDraft& binder) {
       binder.percent_of_powder = reader.number(value, path);
     }},
    {"price_per_t", [](NodeReader& reader, const Node& value, const std::string& path,
                       BinderDraft& binder) { binder.price_per_t = reader.number(value, path); }},
    {"organic", [](NodeReader& reader, const Node& value, const std::string& path,
                   BinderDraft& binder) { binder.organic = reader.boolean(value, path); }},
}};

void take_total(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioDraft& draft) {
  draft.total_kg_per_ha = read_limits(reader, value, path);
}

void take_bins(NodeReader& reader, const Node& value, const std::string& path,
               ScenarioDraft& draft) {
  draft.bins = reader.whole_number(value, path);
}

void take_coating(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioDraft& draft) {
  draft.coating_percent = read_limits(reader, value, path);
}

void take_sgn(NodeReader& reader, const Node& value, const std::string& path,
              ScenarioDraft& draft) {
  draft.sgn = read_limits(reader, value, path);
}

void take_humidity(NodeReader& reader, const Node& value, const std::string& path,
                   ScenarioDraft& draft) {
  draft.dry_up_to_humidity_percent = reader.number(value, path);
}

void take_indices(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioDraft& draft) {
  draft.indices = reader.boolean(value, path).value_or(false);
}

void take_binder(NodeReader& reader, const Node& value, const std::string& path,
                 ScenarioDraft& draft) {
  BinderDraft binder;
  read_keys<BinderDraft>(reader, value, path, "{material: sodium-silicate, price_per_t: 900}",
                         binder_keys, where_it_belongs, binder);
  if (value.kind == Node::Kind::mapping) draft.binder = std::move(binder);
}

void take_factors(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioDraft& draft) {
  reader.names(value, path, "{default: 3, B: 2}",
               [&](const Node& key, const Node& factor, const std::string& place) {
                 const auto read = reader.number(factor, place);
                 if (!read) return;
                 if (key.text == "default") {
                   draft.granular_micronutrient_factor = read;
                 } else {
                   draft.granular_micronutrient_factors.emplace_back(key.text, *read);
                 }
               });
}

void take_fee(NodeReader& reader, const Node& value, const std::string& path,
              ScenarioDraft& draft) {
  draft.blending_fee_per_t = reader.number(value, path);
}

void take_limited(NodeReader& reader, const Node& value, const std::string& path,
                  ScenarioDraft& draft) {
  constexpr std::array<std::string_view, 2> choices{"allow", "forbid"};
  const auto choice = reader.choice(value, path, choices);
  if (choice) {
    draft.limited_compatibility =
        *choice == 0 ? LimitedCompatibility::allow : LimitedCompatibility::forbid;
  }
}

void take_confirmed(NodeReader& reader, const Node& value, const std::string& path,
                    ScenarioDraft& draft) {
  const auto* names = reader.list(value, path, "[B]");
  if (names == nullptr) return;
  for (std::size_t i = 0; i < names->size(); ++i)
    if (auto name = reader.text((*names)[i], path_below(path, std::to_string(i))))
      draft.confirm_high_rate.push_back(std::move(*name));
}

constexpr std::array<Key<ScenarioDraft>, 11> blend_keys{{
    {"total_kg_per_ha", take_total},
    {"bins", take_bins},
    {"coating_percent", take_coating},
    {"sgn", take_sgn},
    {"dry_up_to_humidity_percent", take_humidity},
    {"indices", take_indices},
    {"binder", take_binder},
    {"granular_micronutrient_factor", take_factors},
    {"confirm_high_rate", take_confirmed},
    {"blending_fee_per_t", take_fee},
    {"limited_compatibility", take_limited},
}};

using Pairs = std::vector<std::pair<std::string, std::string>>;

constexpr std::string_view pair_example = "[urea, triple-superphosphate]";

std::pair<std::string, std::string> read_pair(NodeReader& reader, const Node& node,
                                              const std::string& path) {
  const auto* names = reader.list(node, path, pair_example);
  if (names == nullptr) return {};
  if (names->size() != 2) {
    reader.error(codes::wrong_type, path, node.spot,
                 "a pair must name two families, such as " + std::string(pair_example) +
                     ", found " + std::to_string(names->size()));
    return {};
  }
  return {reader.text((*names)[0], path_below(path, "0")).value_or(""),
          reader.text((*names)[1], path_below(path, "1")).value_or("")};
}

template <auto Field>
void take_pairs(NodeReader& reader, const Node& value, const std::string& path,
                ScenarioDraft& draft) {
  const auto* pairs = reader.list(value, path, "[[urea, triple-superphosphate]]");
  if (pairs == nullptr) return;
  for (std::size_t i = 0; i < pairs->size(); ++i) {
    (draft.*Field).push_back(read_pair(reader, (*pairs)[i], path_below(path, std::to_string(i))));
  }
}

using S = ScenarioDraft;
constexpr std::array<Key<ScenarioDraft>, 3> compatibility_keys{{
    {"incompatible", take_pairs<&S::incompatible>},
    {"limited", take_pairs<&S::limited>},
    {"compatible", take_pairs<&S::compatible>},
}};

}  // namespace

void read_blend(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioDraft& draft) {
  read_keys<ScenarioDraft>(reader, node, path, "{bins: 5}", blend_keys, where_it_belongs, draft);
}

void read_compatibility(NodeReader& reader, const Node& node, const std::string& path,
                        ScenarioDraft& draft) {
  read_keys<ScenarioDraft>(reader, node, path, "{incompatible: [[urea, triple-superphosphate]]}",
                           compatibility_keys, where_it_belongs, draft);
}

}  // namespace leastwise
