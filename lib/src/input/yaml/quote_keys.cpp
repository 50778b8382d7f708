#include "input/yaml/quote_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <array>

#include "base/codes.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"

namespace leastwise {
namespace {

template <auto Field>
void take_quote_text(NodeReader& reader, const Node& value, const std::string& path,
                     QuoteTerms& terms) {
  terms.*Field = reader.text(value, path).value_or("");
}

template <auto Field>
void take_quote_number(NodeReader& reader, const Node& value, const std::string& path,
                       QuoteTerms& terms) {
  terms.*Field = reader.number(value, path);
}

template <auto Field>
void take_bag_number(NodeReader& reader, const Node& value, const std::string& path,
                     BagTerms& bags) {
  if (const auto number = reader.number(value, path)) bags.*Field = *number;
}

constexpr std::string_view bags_example = "{kg: 25, price_each: 0.6}";
constexpr std::array<Key<BagTerms>, 2> bag_keys{{
    {"kg", take_bag_number<&BagTerms::kg>},
    {"price_each", take_bag_number<&BagTerms::price_each>},
}};

void take_bags(NodeReader& reader, const Node& value, const std::string& path, QuoteTerms& terms) {
  if (!reader.is_mapping(value, path, bags_example)) return;
  BagTerms bags;
  read_keys<BagTerms>(reader, value, path, bags_example, bag_keys, where_it_belongs, bags);
  if (find_entry(value, reader.units() == Units::us ? "lb" : "kg") == nullptr) {
    reader.error(codes::missing_key, path, value.spot,
                 "bags must say how many " + std::string(unit_name(Measure::mass, reader.units())) +
                     " go into each, such as " + std::string(bags_example));
    return;
  }
  terms.bags = bags;
}

using Q = QuoteTerms;
constexpr std::array<Key<QuoteTerms>, 10> quote_keys{{
    {"number", take_quote_text<&Q::number>},
    {"customer", take_quote_text<&Q::customer>},
    {"date", take_quote_text<&Q::date>},
    {"valid_until", take_quote_text<&Q::valid_until>},
    {"overhead_per_t", take_quote_number<&Q::overhead_per_t>},
    {"margin_percent", take_quote_number<&Q::margin_percent>},
    {"markup_percent", take_quote_number<&Q::markup_percent>},
    {"margin_per_t", take_quote_number<&Q::margin_per_t>},
    {"outbound_freight_per_t", take_quote_number<&Q::outbound_freight_per_t>},
    {"bags", take_bags},
}};

constexpr std::array<Key<DeclarationTerms>, 3> declare_keys{{
    {"rules",
     [](NodeReader& reader, const Node& value, const std::string& path, DeclarationTerms& terms) {
       constexpr std::array<std::string_view, 2> rules{"aafco", "eu-2019-1009"};
       if (const auto choice = reader.choice(value, path, rules)) terms.rules = rules[*choice];
     }},
    {"stated_as",
     [](NodeReader& reader, const Node& value, const std::string& path, DeclarationTerms& terms) {
       constexpr std::array<std::string_view, 2> kinds{"oxide", "element"};
       if (const auto choice = reader.choice(value, path, kinds)) terms.stated_as = kinds[*choice];
     }},
    {"step_percent",
     [](NodeReader& reader, const Node& value, const std::string& path, DeclarationTerms& terms) {
       terms.step_percent = reader.number(value, path);
     }},
}};

}  // namespace

void read_quote(NodeReader& reader, const Node& node, const std::string& path,
                ScenarioText& scenario) {
  constexpr std::string_view example = "{margin_percent: 8, valid_until: 2026-03-31}";
  QuoteTerms terms;
  read_keys<QuoteTerms>(reader, node, path, example, quote_keys, where_it_belongs, terms);
  if (node.kind == Node::Kind::mapping) scenario.draft.quote = std::move(terms);
}

void read_declare(NodeReader& reader, const Node& node, const std::string& path,
                  ScenarioText& scenario) {
  DeclarationTerms terms;
  read_keys<DeclarationTerms>(reader, node, path, "{rules: aafco}", declare_keys, where_it_belongs,
                              terms);
  if (node.kind == Node::Kind::mapping) scenario.draft.declare = std::move(terms);
}

}  // namespace leastwise
