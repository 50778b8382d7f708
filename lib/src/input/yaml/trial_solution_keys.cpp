#include <array>

#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

void take_litres(NodeReader& reader, const Node& value, const std::string& path,
                 Solutions& solutions) {
  if (const auto litres = reader.number(value, path)) solutions.litres_per_ha = *litres;
}

void take_solubilities(NodeReader& reader, const Node& value, const std::string& path,
                       Solutions& solutions) {
  reader.names(value, path, "{zinc-chelate: 400}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (const auto g_per_l = reader.number(node, place))
                   solutions.solubility_g_per_l.emplace_back(key.text, *g_per_l);
               });
}

constexpr std::array<Key<Solutions>, 2> solution_keys{{
    {"litres_per_ha", take_litres},
    {"solubility_g_per_l", take_solubilities},
}};

}  // namespace

void read_solutions(NodeReader& reader, const Node& node, const std::string& path,
                    TrialDraft& draft) {
  if (node.kind != Node::Kind::mapping) {
    draft.solutions.allowed = reader.boolean(node, path).value_or(true);
    return;
  }
  read_keys<Solutions>(reader, node, path, "{litres_per_ha: 300}", solution_keys,
                       where_it_belongs_in_a_trial, draft.solutions);
}

}  // namespace leastwise
