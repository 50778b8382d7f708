#include <array>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

constexpr std::string_view hold_example = "[N, P2O5, K2O, S]";

/// `all`, or a list of names.
void take_nutrients(NodeReader& reader, const Node& value, const std::string& path, Hold& hold) {
  if (value.kind != Node::Kind::sequence) {
    const auto word = reader.text(value, path);
    if (!word) return;
    if (*word == "all") {
      hold.all = true;
      return;
    }
    reader.error(codes::bad_choice, path, value.spot,
                 "expected all or a list of nutrients, such as [N, P2O5, K2O, S], found " +
                     in_quotes(*word));
    return;
  }
  const auto* items = reader.list(value, path, hold_example);
  if (items == nullptr) return;
  for (std::size_t i = 0; i < items->size(); ++i) {
    const std::string place = path_below("hold", std::to_string(i));
    reader.remember(place, (*items)[i].spot);
    if (const auto name = reader.text((*items)[i], place)) hold.nutrients.push_back(*name);
  }
}

constexpr std::array<Key<Hold>, 2> hold_keys{{
    {"nutrients", take_nutrients},
    {"product", [](NodeReader& reader, const Node& value, const std::string& path,
                   Hold& hold) { hold.product = reader.boolean(value, path).value_or(false); }},
}};

}  // namespace

void read_hold(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft) {
  Hold hold;
  if (node.kind == Node::Kind::mapping) {
    read_keys<Hold>(reader, node, path, "{nutrients: [N, S], product: true}", hold_keys,
                    where_it_belongs_in_a_trial, hold);
  } else {
    take_nutrients(reader, node, path, hold);
  }
  draft.hold = std::move(hold);
}

void read_stock(NodeReader& reader, const Node& node, const std::string& path, TrialDraft& draft) {
  reader.names(node, path, "{urea: 40, zinc-oxide: 0.5}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 if (const auto kg = reader.number(value, place))
                   draft.stock.push_back({key.text, *kg});
               });
}

}  // namespace leastwise
