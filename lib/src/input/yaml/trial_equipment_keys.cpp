#include <array>
#include <utility>

#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

constexpr std::array<std::string_view, 2> mixer_kinds{"bucket", "drum"};

/// Up to one of these capacities a mixer of no stated kind is a bucket: common practice.
constexpr double bucket_up_to_kg = 12;
constexpr double bucket_up_to_litres = 15;

/// A mixer while it is read: its kind may be left to its capacity.
struct MixerText {
  Mixer mixer{};
  bool kind_stated = false;
};

constexpr std::array<Key<MixerText>, 3> mixer_keys{{
    {"kind",
     [](NodeReader& reader, const Node& value, const std::string& path, MixerText& text) {
       text.kind_stated = true;
       if (const auto kind = reader.choice(value, path, mixer_kinds)) {
         text.mixer.kind = *kind == 0 ? MixerKind::bucket : MixerKind::drum;
       }
     }},
    {"capacity_kg", [](NodeReader& reader, const Node& value, const std::string& path,
                       MixerText& text) { text.mixer.capacity_kg = reader.number(value, path); }},
    {"capacity_litres",
     [](NodeReader& reader, const Node& value, const std::string& path, MixerText& text) {
       text.mixer.capacity_litres = reader.number(value, path);
     }},
}};

constexpr std::array<Key<Container>, 2> container_keys{{
    {"capacity_kg",
     [](NodeReader& reader, const Node& value, const std::string& path, Container& container) {
       container.capacity_kg = reader.number(value, path);
     }},
    {"capacity_litres",
     [](NodeReader& reader, const Node& value, const std::string& path, Container& container) {
       container.capacity_litres = reader.number(value, path);
     }},
}};

constexpr std::array<Key<Balance>, 2> balance_keys{{
    {"capacity_kg",
     [](NodeReader& reader, const Node& value, const std::string& path, Balance& balance) {
       balance.capacity_kg = reader.number(value, path).value_or(0);
     }},
    {"readability_g",
     [](NodeReader& reader, const Node& value, const std::string& path, Balance& balance) {
       balance.readability_g = reader.number(value, path).value_or(0);
     }},
}};

MixerKind kind_by_size(const Mixer& mixer) {
  const bool bucket = (mixer.capacity_kg && *mixer.capacity_kg <= bucket_up_to_kg) ||
                      (mixer.capacity_litres && *mixer.capacity_litres <= bucket_up_to_litres);
  return bucket ? MixerKind::bucket : MixerKind::drum;
}

void take_mixers(NodeReader& reader, const Node& value, const std::string& path,
                 TrialDraft& draft) {
  constexpr std::string_view example = "drum: {kind: drum, capacity_kg: 60}";
  reader.names(value, path, example,
               [&](const Node& key, const Node& node, const std::string& place) {
                 MixerText text;
                 text.mixer.name = key.text;
                 read_keys<MixerText>(reader, node, place, "{kind: drum, capacity_kg: 60}",
                                      mixer_keys, where_it_belongs_in_a_trial, text);
                 if (!text.kind_stated) text.mixer.kind = kind_by_size(text.mixer);
                 draft.mixers.push_back(std::move(text.mixer));
               });
}

void take_containers(NodeReader& reader, const Node& value, const std::string& path,
                     TrialDraft& draft) {
  constexpr std::string_view example = "bag: {capacity_kg: 5}";
  read_named<Container>(reader, value, path, example, "{capacity_kg: 5}", container_keys,
                        where_it_belongs_in_a_trial, &Container::name, draft.containers);
}

void take_balances(NodeReader& reader, const Node& value, const std::string& path,
                   TrialDraft& draft) {
  constexpr std::string_view example = "bench: {capacity_kg: 6, readability_g: 0.1}";
  read_named<Balance>(reader, value, path, example, "{capacity_kg: 6, readability_g: 0.1}",
                      balance_keys, where_it_belongs_in_a_trial, &Balance::name, draft.balances);
}

constexpr std::array<Key<Spreader>, 2> spreader_keys{{
    {"working_width_m",
     [](NodeReader& reader, const Node& value, const std::string& path, Spreader& spreader) {
       spreader.working_width_m = reader.number(value, path).value_or(0);
     }},
    {"hopper_kg", [](NodeReader& reader, const Node& value, const std::string& path,
                     Spreader& spreader) { spreader.hopper_kg = reader.number(value, path); }},
}};

void take_spreader(NodeReader& reader, const Node& value, const std::string& path,
                   TrialDraft& draft) {
  draft.spreader.emplace();
  read_keys<Spreader>(reader, value, path, "{working_width_m: 3, hopper_kg: 40}", spreader_keys,
                      where_it_belongs_in_a_trial, *draft.spreader);
}

constexpr std::array<Key<TrialDraft>, 4> equipment_keys{{
    {"mixers", take_mixers},
    {"containers", take_containers},
    {"balances", take_balances},
    {"spreader", take_spreader},
}};

}  // namespace

void read_equipment(NodeReader& reader, const Node& node, const std::string& path,
                    TrialDraft& draft) {
  read_keys<TrialDraft>(reader, node, path,
                        "{balances: {bench: {capacity_kg: 6, readability_g: 1}}}", equipment_keys,
                        where_it_belongs_in_a_trial, draft);
}

void read_bags(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft) {
  reader.names(node, path, "{default: 25, urea: 50}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 if (const auto kg = reader.number(value, place))
                   draft.bags.push_back({key.text, *kg});
               });
}

}  // namespace leastwise
