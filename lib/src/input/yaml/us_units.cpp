#include "input/yaml/us_units.hpp"

#include <array>

namespace leastwise {
namespace {

constexpr double kg_per_lb = 0.45359237;
constexpr double lb_per_short_ton = 2000;
constexpr double m2_per_acre = 4046.8564224;
constexpr double t_per_short_ton = kg_per_lb * lb_per_short_ton / 1000;
constexpr double kg_per_ha_of_lb_per_acre = kg_per_lb * 10000 / m2_per_acre;

struct UsSuffix {
  std::string_view us;
  std::string_view metric;
  double factor;
  std::string_view unit;
  std::string_view equal;
};

constexpr std::string_view ton_words = "1 t is 1.10231 short tons";
constexpr std::string_view acre_words = "1 lb/acre is 1.12085 kg/ha";

constexpr std::array<UsSuffix, 9> us_suffixes{{
    {"_per_short_ton", "_per_t", 1 / t_per_short_ton, "short ton", ton_words},
    {"_per_st", "_per_t", 1 / t_per_short_ton, "short ton", ton_words},
    {"_lb_per_acre", "_kg_per_ha", kg_per_ha_of_lb_per_acre, "lb/acre", acre_words},
    {"_lbs_per_acre", "_kg_per_ha", kg_per_ha_of_lb_per_acre, "lb/acre", acre_words},
    {"_lb_per_ac", "_kg_per_ha", kg_per_ha_of_lb_per_acre, "lb/acre", acre_words},
    {"_lb", "_kg", kg_per_lb, "lb", "1 lb is 0.453592 kg"},
    {"_lbs", "_kg", kg_per_lb, "lb", "1 lb is 0.453592 kg"},
    {"acres", "hectares", m2_per_acre / 10000, "acre", "1 acre is 0.404686 ha"},
    {"short_tons", "tonnes", t_per_short_ton, "short ton", "1 short ton is 0.907185 t"},
}};

}  // namespace

std::optional<UsKey> us_key(std::string_view key) {
  for (const UsSuffix& suffix : us_suffixes) {
    if (!key.ends_with(suffix.us)) continue;
    const std::string_view start = key.substr(0, key.size() - suffix.us.size());
    return UsKey{std::string(start) + std::string(suffix.metric), suffix.factor, suffix.unit,
                 suffix.equal};
  }
  return std::nullopt;
}

}  // namespace leastwise
