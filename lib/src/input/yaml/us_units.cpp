#include "input/yaml/us_units.hpp"

#include <array>

#include "base/unit_factors.hpp"

namespace leastwise {
namespace {

struct UsSuffix {
  std::string_view us;
  std::string_view metric;
  Measure measure;
  std::string_view unit;
  std::string_view equal;
};

constexpr std::string_view ton_words = "1 t is 1.10231 short tons";
constexpr std::string_view acre_words = "1 lb/acre is 1.12085 kg/ha";
constexpr std::string_view lb_words = "1 lb is 0.453592 kg";

constexpr std::array<UsSuffix, 12> us_suffixes{{
    {"_per_short_tons", "_per_t", Measure::price_of_goods, "short ton", ton_words},
    {"_per_short_ton", "_per_t", Measure::price_of_goods, "short ton", ton_words},
    {"_per_st", "_per_t", Measure::price_of_goods, "short ton", ton_words},
    {"_lb_per_acre", "_kg_per_ha", Measure::rate, "lb/acre", acre_words},
    {"_lbs_per_acre", "_kg_per_ha", Measure::rate, "lb/acre", acre_words},
    {"_lb_per_ac", "_kg_per_ha", Measure::rate, "lb/acre", acre_words},
    {"_lb_per_ft3", "_kg_per_m3", Measure::density, "lb/ft3", "1 lb/ft3 is 16.0185 kg/m3"},
    {"_lb", "_kg", Measure::mass, "lb", lb_words},
    {"_lbs", "_kg", Measure::mass, "lb", lb_words},
    {"_short_tons", "_t", Measure::goods, "short ton", "1 short ton is 0.907185 t"},
    {"acres", "hectares", Measure::land, "acre", "1 acre is 0.404686 ha"},
    {"short_tons", "tonnes", Measure::goods, "short ton", "1 short ton is 0.907185 t"},
}};

UsKey made(std::string metric_key, const UsSuffix& suffix) {
  return {metric_key,     us_key_of(metric_key),
          suffix.measure, to_metric(1, suffix.measure, Units::us),
          suffix.unit,    suffix.equal};
}

}  // namespace

std::optional<UsKey> us_key(std::string_view key) {
  if (key == "lb")
    return UsKey{"kg", "lb", Measure::mass, to_metric(1, Measure::mass, Units::us), "lb", lb_words};
  for (const UsSuffix& suffix : us_suffixes) {
    if (!key.ends_with(suffix.us)) continue;
    const std::string_view start = key.substr(0, key.size() - suffix.us.size());
    return made(std::string(start) + std::string(suffix.metric), suffix);
  }
  return std::nullopt;
}

std::optional<UsKey> us_key_for(std::string_view metric_key) {
  const std::string us = us_key_of(metric_key);
  return us.empty() ? std::nullopt : us_key(us);
}

}  // namespace leastwise
