#include <algorithm>
#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<std::string_view, 4> form_names{"granule", "powder", "crystal", "fines"};
constexpr std::array<Form, 4> forms{Form::granule, Form::powder, Form::crystal, Form::fines};

template <auto Field>
void take_number(NodeReader& reader, const Node& value, const std::string& path,
                 MaterialDraft& material) {
  material.*Field = reader.number(value, path);
}

template <auto Field>
void take_text(NodeReader& reader, const Node& value, const std::string& path,
               MaterialDraft& material) {
  material.*Field = reader.text(value, path);
}

template <auto Field>
void take_boolean(NodeReader& reader, const Node& value, const std::string& path,
                  MaterialDraft& material) {
  material.*Field = reader.boolean(value, path);
}

void take_form(NodeReader& reader, const Node& value, const std::string& path,
               MaterialDraft& material) {
  if (const auto choice = reader.choice(value, path, form_names)) material.form = forms[*choice];
}

template <auto Field>
void take_contents(NodeReader& reader, const Node& value, const std::string& path,
                   MaterialDraft& material) {
  std::vector<Content> contents;
  reader.names(value, path, "{N: 46}",
               [&](const Node& key, const Node& percent, const std::string& place) {
                 if (const auto read = reader.number(percent, place)) {
                   contents.push_back({key.text, *read});
                 }
               });
  if (value.kind == Node::Kind::mapping) material.*Field = std::move(contents);
}

void take_share(NodeReader& reader, const Node& value, const std::string& path,
                MaterialDraft& material) {
  material.share_percent = read_limits(reader, value, path);
}

constexpr std::array<Key<PriceTierDraft>, 3> tier_keys{{
    {"from_t", [](NodeReader& reader, const Node& value, const std::string& path,
                  PriceTierDraft& tier) { tier.from_t = reader.number(value, path); }},
    {"beyond_t", [](NodeReader& reader, const Node& value, const std::string& path,
                    PriceTierDraft& tier) { tier.beyond_t = reader.number(value, path); }},
    {"price_per_t", [](NodeReader& reader, const Node& value, const std::string& path,
                       PriceTierDraft& tier) { tier.price_per_t = reader.number(value, path); }},
}};

void take_tiers(NodeReader& reader, const Node& value, const std::string& path,
                MaterialDraft& material) {
  if (auto tiers = read_price_tiers(reader, value, path)) material.price_tiers = std::move(*tiers);
}

using M = MaterialDraft;
constexpr std::array<Key<MaterialDraft>, 20> material_keys{{
    {"form", take_form},
    {"family", take_text<&M::family>},
    {"contains_percent", take_contents<&M::contains_percent>},
    {"contains_also_percent", take_contents<&M::contains_also_percent>},
    {"analysis_percent", take_contents<&M::analysis_percent>},
    {"spread_percent", take_contents<&M::spread_percent>},
    {"formula", take_text<&M::formula>},
    {"purity_percent", take_number<&M::purity_percent>},
    {"price_per_t", take_number<&M::price_per_t>},
    {"freight_per_t", take_number<&M::freight_per_t>},
    {"price_tiers", take_tiers},
    {"minimum_lot_t", take_number<&M::minimum_lot_t>},
    {"share_percent", take_share},
    {"min_if_used_percent", take_number<&M::min_if_used_percent>},
    {"stock_kg", take_number<&M::stock_kg>},
    {"sgn", take_number<&M::sgn>},
    {"ui", take_number<&M::ui>},
    {"bulk_density_kg_per_m3", take_number<&M::bulk_density_kg_per_m3>},
    {"ground", take_boolean<&M::ground>},
    {"micronutrient_granule", take_boolean<&M::micronutrient_granule>},
}};

bool is_material_key(std::string_view key) {
  return std::any_of(material_keys.begin(), material_keys.end(),
                     [key](const Key<MaterialDraft>& known) { return known.name == key; });
}

}  // namespace

std::optional<std::vector<PriceTierDraft>> read_price_tiers(NodeReader& reader, const Node& node,
                                                            const std::string& path) {
  constexpr std::string_view example = "{from_t: 25, price_per_t: 395}";
  const auto* list =
      reader.list(node, path, "[{from_t: 0, price_per_t: 410}, {from_t: 25, price_per_t: 395}]");
  if (list == nullptr) return std::nullopt;
  std::vector<PriceTierDraft> tiers(list->size());
  for (std::size_t k = 0; k < list->size(); ++k) {
    const std::string place = path_below(path, std::to_string(k));
    reader.remember(place, (*list)[k].spot);
    read_keys<PriceTierDraft>(reader, (*list)[k], place, example, tier_keys, where_it_belongs,
                              tiers[k]);
  }
  if (tiers.empty())
    reader.error(codes::bad_tiers, path, node.spot,
                 "price_tiers must list prices, such as " + std::string(example) + ", found none");
  return tiers;
}

bool read_material(NodeReader& reader, const Node& key, const Node& node, const std::string& path,
                   MaterialDraft& material) {
  if (node.kind != Node::Kind::mapping && is_material_key(key.text)) {
    reader.error(codes::misplaced_key, path, key.spot,
                 "expected the name of a material, found its key " + in_quotes(key.text) +
                     "; indent it below the material it belongs to");
    return false;
  }
  read_keys<MaterialDraft>(reader, node, path, "{form: granule, price_per_t: 410}", material_keys,
                           where_it_belongs, material);
  return true;
}

}  // namespace leastwise
