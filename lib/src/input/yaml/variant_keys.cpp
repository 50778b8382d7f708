#include <array>
#include <utility>

#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/risk_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

using V = VariantDraft;

template <auto Field>
void take_names(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  if (auto names = reader.material_names(value, path)) variant.*Field = std::move(*names);
}

void take_prices(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  const NodeReader::Scaled scaled(reader, Measure::price_of_goods);
  reader.names(value, path, "{urea: 520}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (const auto price = reader.number(node, place))
                   variant.prices.push_back({key.text, *price, {}, place});
               });
}

template <auto Field>
void take_targets(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  reader.names(value, path, "N: {min: 60}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 (variant.*Field).push_back(read_target(reader, key, node, place));
               });
}

void take_ratios(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  const auto* ratios = reader.list(value, path, "- {of: N-ammonium, to: N, min: 0.3}");
  if (ratios == nullptr) return;
  ScenarioDraft read;
  for (std::size_t i = 0; i < ratios->size(); ++i)
    read_ratio(reader, (*ratios)[i], path_below(path, std::to_string(i)), read);
  variant.ratios = std::move(read.ratios);
}

void take_blend(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  ScenarioDraft read;
  read_blend(reader, value, path, read);
  variant.total_kg_per_ha = read.total_kg_per_ha;
  variant.bins = read.bins;
  variant.coating_percent = read.coating_percent;
  variant.binder = std::move(read.binder);
  variant.granular_micronutrient_factor = read.granular_micronutrient_factor;
  variant.granular_micronutrient_factors = std::move(read.granular_micronutrient_factors);
  variant.confirm_high_rate = std::move(read.confirm_high_rate);
  variant.sgn = read.sgn;
  variant.dry_up_to_humidity_percent = read.dry_up_to_humidity_percent;
  variant.blending_fee_per_t = read.blending_fee_per_t;
  if (value.kind == Node::Kind::mapping && find_entry(value, "limited_compatibility") != nullptr)
    variant.limited_compatibility = read.limited_compatibility;
}

void take_only_source(NodeReader& reader, const Node& value, const std::string& path, V& variant) {
  reader.names(value, path, "{Zn: zinc-oxide}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (auto material = reader.text(node, place))
                   variant.only_source_of.emplace_back(key.text, std::move(*material));
               });
}

constexpr std::array<Key<V>, 9> variant_keys{{
    {"use", take_names<&V::use>},
    {"prices", take_prices},
    {"rates_kg_per_ha", take_targets<&V::rates_kg_per_ha>},
    {"grade_percent", take_targets<&V::grade_percent>},
    {"ratios", take_ratios},
    {"blend", take_blend},
    {"drop", take_names<&V::drop>},
    {"without", take_names<&V::without>},
    {"only_source_of", take_only_source},
}};

}  // namespace

VariantDraft read_variant(NodeReader& reader, const Node& node, const std::string& path,
                          std::string name) {
  VariantDraft variant;
  variant.name = std::move(name);
  read_keys<VariantDraft>(reader, node, path, "{without: [urea]}", variant_keys, where_it_belongs,
                          variant);
  return variant;
}

void read_variants(NodeReader& reader, const Node& node, const std::string& path,
                   ScenarioDraft& draft) {
  reader.names(node, path, "only-oxide: {only_source_of: {Zn: zinc-oxide}}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 draft.variants.push_back(read_variant(reader, value, place, key.text));
               });
}

}  // namespace leastwise
