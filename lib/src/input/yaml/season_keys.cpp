#include "input/yaml/season_keys.hpp"
#include "input/yaml/key_locations.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise {
namespace {

/// One number, exactly that; or limits.
std::optional<Limits> read_amount(NodeReader& reader, const Node& node, const std::string& path) {
  if (node.kind == Node::Kind::mapping) return read_limits(reader, node, path);
  const auto amount = reader.number(node, path);
  return amount ? std::optional<Limits>({*amount, *amount}) : std::nullopt;
}

/// One number, at most that; or limits.
std::optional<Limits> read_ceiling(NodeReader& reader, const Node& node, const std::string& path) {
  if (node.kind == Node::Kind::mapping) return read_limits(reader, node, path);
  const auto most = reader.number(node, path);
  if (!most) return std::nullopt;
  Limits limits;
  limits.max = *most;
  return limits;
}

constexpr std::array<Key<SeasonBlendText>, 5> blend_keys{{
    {"scenario", [](NodeReader&, const Node& value, const std::string&,
                    SeasonBlendText& blend) { blend.scenario = &value; }},
    {"tonnes",
     [](NodeReader& reader, const Node& value, const std::string& path, SeasonBlendText& blend) {
       blend.draft.tonnes = read_amount(reader, value, path);
     }},
    {"hectares", [](NodeReader& reader, const Node& value, const std::string& path,
                    SeasonBlendText& blend) { blend.draft.hectares = reader.number(value, path); }},
    {"price_per_t",
     [](NodeReader& reader, const Node& value, const std::string& path, SeasonBlendText& blend) {
       blend.draft.price_per_t = reader.number(value, path);
     }},
    {"period",
     [](NodeReader& reader, const Node& value, const std::string& path, SeasonBlendText& blend) {
       blend.draft.period = reader.text(value, path).value_or("");
     }},
}};

void take_nothing(NodeReader&, const Node&, const std::string&, SeasonText&) {}

void take_title(NodeReader& reader, const Node& value, const std::string& path,
                SeasonText& season) {
  season.draft.title = reader.text(value, path).value_or("");
}

void take_blends(NodeReader& reader, const Node& value, const std::string& path,
                 SeasonText& season) {
  reader.names(value, path, "starter: {scenario: starter.yaml, tonnes: 120}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 SeasonBlendText blend;
                 blend.draft.name = key.text;
                 blend.draft.path = place;
                 blend.spot = key.spot;
                 read_keys<SeasonBlendText>(reader, node, place,
                                            "{scenario: starter.yaml, tonnes: 120}", blend_keys,
                                            where_it_belongs_in_a_season, blend);
                 season.blends.push_back(std::move(blend));
               });
}

void take_periods(NodeReader& reader, const Node& value, const std::string& path,
                  SeasonText& season) {
  const auto* periods = reader.list(value, path, "[march, april]");
  if (periods == nullptr) return;
  for (std::size_t i = 0; i < periods->size(); ++i) {
    const std::string place = path_below(path, std::to_string(i));
    reader.remember(place, (*periods)[i].spot);
    if (auto name = reader.text((*periods)[i], place))
      season.draft.periods.push_back(std::move(*name));
  }
}

void take_stock(NodeReader& reader, const Node& value, const std::string& path,
                SeasonText& season) {
  reader.names(value, path, "{map: 20000, urea: {min: 5000, max: 60000}}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (const auto kg = read_ceiling(reader, node, place))
                   season.draft.stock_kg.push_back({key.text, *kg});
               });
}

void take_supply(NodeReader& reader, const Node& value, const std::string& path,
                 SeasonText& season) {
  reader.names(value, path, "map: {april: 20000}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 SeasonSupplyDraft supply{key.text, {}};
                 reader.names(node, place, "{april: 20000}",
                              [&](const Node& period, const Node& kg, const std::string& at) {
                                if (const auto number = reader.number(kg, at))
                                  supply.kg.emplace_back(period.text, *number);
                              });
                 season.draft.supply_kg.push_back(std::move(supply));
               });
}

void take_storage(NodeReader& reader, const Node& value, const std::string& path,
                  SeasonText& season) {
  reader.names(value, path, "{map: 4}",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (const auto price = reader.number(node, place))
                   season.draft.storage_per_t.emplace_back(key.text, *price);
               });
}

constexpr std::array<Key<SeasonPurchaseDraft>, 2> purchase_keys{{
    {"price_tiers",
     [](NodeReader& reader, const Node& value, const std::string& path,
        SeasonPurchaseDraft& purchase) {
       if (auto tiers = read_price_tiers(reader, value, path))
         purchase.price_tiers = std::move(*tiers);
     }},
    {"minimum_lot_t",
     [](NodeReader& reader, const Node& value, const std::string& path,
        SeasonPurchaseDraft& purchase) { purchase.minimum_lot_t = reader.number(value, path); }},
}};

void take_purchases(NodeReader& reader, const Node& value, const std::string& path,
                    SeasonText& season) {
  constexpr std::string_view example = "{minimum_lot_t: 25}";
  read_named<SeasonPurchaseDraft>(reader, value, path, "urea: {minimum_lot_t: 25}", example,
                                  purchase_keys, where_it_belongs_in_a_season,
                                  &SeasonPurchaseDraft::material, season.draft.purchases);
}

constexpr std::array<Key<SeasonYardDraft>, 2> yard_keys{{
    {"stock_kg",
     [](NodeReader& reader, const Node& value, const std::string& path, SeasonYardDraft& yard) {
       reader.names(value, path, "{map: 20000}",
                    [&](const Node& key, const Node& node, const std::string& place) {
                      if (const auto kg = read_ceiling(reader, node, place))
                        yard.stock_kg.push_back({key.text, *kg});
                    });
     }},
    {"transport_per_t",
     [](NodeReader& reader, const Node& value, const std::string& path, SeasonYardDraft& yard) {
       reader.names(value, path, "{map: 12}",
                    [&](const Node& key, const Node& node, const std::string& place) {
                      if (const auto price = reader.number(node, place))
                        yard.transport_per_t.emplace_back(key.text, *price);
                    });
     }},
}};

void take_yards(NodeReader& reader, const Node& value, const std::string& path,
                SeasonText& season) {
  constexpr std::string_view example = "{stock_kg: {map: 20000}, transport_per_t: {map: 12}}";
  read_named<SeasonYardDraft>(reader, value, path, "quay: {stock_kg: {map: 20000}}", example,
                              yard_keys, where_it_belongs_in_a_season, &SeasonYardDraft::name,
                              season.draft.yards);
}

void take_run_blends(NodeReader& reader, const Node& value, const std::string& path,
                     SeasonRunDraft& run) {
  const auto* blends = reader.list(value, path, "[starter, topdress]");
  if (blends == nullptr) return;
  for (std::size_t i = 0; i < blends->size(); ++i) {
    const std::string place = path_below(path, std::to_string(i));
    reader.remember(place, (*blends)[i].spot);
    if (auto name = reader.text((*blends)[i], place)) run.blends.push_back(std::move(*name));
  }
}

void take_run_bins(NodeReader& reader, const Node& value, const std::string& path,
                   SeasonRunDraft& run) {
  const auto bins = reader.number(value, path);
  if (!bins) return;
  if (*bins == std::floor(*bins) && std::fabs(*bins) < 1e6)
    run.bins = static_cast<int>(*bins);
  else
    reader.error(codes::bad_number, path, value.spot,
                 "expected a whole number of bins, found " + in_quotes(value.text));
}

constexpr std::array<Key<SeasonRunDraft>, 2> run_keys{{
    {"blends", take_run_blends},
    {"bins", take_run_bins},
}};

void take_runs(NodeReader& reader, const Node& value, const std::string& path, SeasonText& season) {
  constexpr std::string_view example = "{blends: [starter, topdress], bins: 5}";
  read_named<SeasonRunDraft>(reader, value, path, "spring: {blends: [starter, topdress], bins: 5}",
                             example, run_keys, where_it_belongs_in_a_season, &SeasonRunDraft::name,
                             season.draft.runs);
}

constexpr std::array<Key<SeasonText>, 10> season_keys{{
    {"leastwise", take_nothing},
    {"season", take_title},
    {"blends", take_blends},
    {"periods", take_periods},
    {"stock_kg", take_stock},
    {"supply_kg", take_supply},
    {"storage_per_t", take_storage},
    {"purchases", take_purchases},
    {"yards", take_yards},
    {"runs", take_runs},
}};

}  // namespace

void read_season(NodeReader& reader, const Node& root, SeasonText& season) {
  if (!reader.is_mapping(root, {}, "leastwise: 1")) return;
  if (!check_version(reader, root, true)) {
    reader.mark_unreadable({});
    return;
  }
  read_keys<SeasonText>(reader, root, {}, "leastwise: 1", season_keys, where_it_belongs_in_a_season,
                        season);
}

}  // namespace leastwise
