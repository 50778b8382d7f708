#include <array>

#include "base/codes.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<Key<BinderDraft>, 4> binder_keys{{
    {"material",
     [](Page& page, const Node& value, const std::string& path, BinderDraft& binder) {
       if (auto name = page.text(value, path)) binder.material = std::move(*name);
     }},
    {"percent_of_powder",
     [](Page& page, const Node& value, const std::string& path, BinderDraft& binder) {
       binder.percent_of_powder = page.number(value, path);
     }},
    {"price_per_t", [](Page& page, const Node& value, const std::string& path,
                       BinderDraft& binder) { binder.price_per_t = page.number(value, path); }},
    {"organic", [](Page& page, const Node& value, const std::string& path,
                   BinderDraft& binder) { binder.organic = page.boolean(value, path); }},
}};

void take_total(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  draft.total_kg_per_ha = read_limits(page, value, path);
}

void take_bins(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  draft.bins = page.whole_number(value, path);
}

void take_coating(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  draft.coating_percent = read_limits(page, value, path);
}

void take_binder(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  BinderDraft binder;
  read_keys<BinderDraft>(page, value, path, "{material: sodium-silicate, price_per_t: 900}",
                         binder_keys, where_it_belongs, binder);
  if (value.kind == Node::Kind::mapping) draft.binder = std::move(binder);
}

void take_factors(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  page.names(value, path, "{default: 3, B: 2}",
             [&](const Node& key, const Node& factor, const std::string& place) {
               const auto read = page.number(factor, place);
               if (!read) return;
               if (key.text == "default") {
                 draft.granular_micronutrient_factor = read;
               } else {
                 draft.granular_micronutrient_factors.emplace_back(key.text, *read);
               }
             });
}

void take_fee(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  draft.blending_fee_per_t = page.number(value, path);
}

void take_limited(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  constexpr std::array<std::string_view, 2> choices{"allow", "forbid"};
  const auto choice = page.choice(value, path, choices);
  if (choice) {
    draft.limited_compatibility =
        *choice == 0 ? LimitedCompatibility::allow : LimitedCompatibility::forbid;
  }
}

void take_confirmed(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  const auto* names = page.list(value, path, "[B]");
  if (names == nullptr) return;
  for (std::size_t i = 0; i < names->size(); ++i)
    if (auto name = page.text((*names)[i], path_below(path, std::to_string(i))))
      draft.confirm_high_rate.push_back(std::move(*name));
}

constexpr std::array<Key<ScenarioDraft>, 8> blend_keys{{
    {"total_kg_per_ha", take_total},
    {"bins", take_bins},
    {"coating_percent", take_coating},
    {"binder", take_binder},
    {"granular_micronutrient_factor", take_factors},
    {"confirm_high_rate", take_confirmed},
    {"blending_fee_per_t", take_fee},
    {"limited_compatibility", take_limited},
}};

using Pairs = std::vector<std::pair<std::string, std::string>>;

constexpr std::string_view pair_example = "[urea, triple-superphosphate]";

std::pair<std::string, std::string> read_pair(Page& page, const Node& node,
                                              const std::string& path) {
  const auto* names = page.list(node, path, pair_example);
  if (names == nullptr) return {};
  if (names->size() != 2) {
    page.error(codes::wrong_type, path, node.spot,
               "a pair must name two families, such as " + std::string(pair_example) + ", found " +
                   std::to_string(names->size()));
    return {};
  }
  return {page.text((*names)[0], path_below(path, "0")).value_or(""),
          page.text((*names)[1], path_below(path, "1")).value_or("")};
}

template <auto Field>
void take_pairs(Page& page, const Node& value, const std::string& path, ScenarioDraft& draft) {
  const auto* pairs = page.list(value, path, "[[urea, triple-superphosphate]]");
  if (pairs == nullptr) return;
  for (std::size_t i = 0; i < pairs->size(); ++i) {
    (draft.*Field).push_back(read_pair(page, (*pairs)[i], path_below(path, std::to_string(i))));
  }
}

using S = ScenarioDraft;
constexpr std::array<Key<ScenarioDraft>, 3> compatibility_keys{{
    {"incompatible", take_pairs<&S::incompatible>},
    {"limited", take_pairs<&S::limited>},
    {"compatible", take_pairs<&S::compatible>},
}};

}  // namespace

void read_blend(Page& page, const Node& node, const std::string& path, ScenarioDraft& draft) {
  read_keys<ScenarioDraft>(page, node, path, "{bins: 5}", blend_keys, where_it_belongs, draft);
}

void read_compatibility(Page& page, const Node& node, const std::string& path,
                        ScenarioDraft& draft) {
  read_keys<ScenarioDraft>(page, node, path, "{incompatible: [[urea, triple-superphosphate]]}",
                           compatibility_keys, where_it_belongs, draft);
}

}  // namespace leastwise
