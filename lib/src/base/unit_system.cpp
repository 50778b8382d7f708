#include "base/unit_factors.hpp"

#include <array>
#include <charconv>
#include <cstddef>

#include "base/text/wording.hpp"

namespace leastwise {
namespace {

constexpr double kg_per_lb = 0.45359237;
constexpr double t_per_short_ton = 0.90718474;
constexpr double ha_per_acre = 0.40468564224;
constexpr double m3_per_ft3 = 0.028316846592;

struct MeasuredUnit {
  std::string_view metric{};
  std::string_view us{};
  UnitFactor factor{};
};

/// Along `Measure`.
constexpr std::array<MeasuredUnit, 9> units_of_measures{{
    {"kg", "lb", {kg_per_lb, 1}},
    {"ha", "acre", {ha_per_acre, 1}},
    {"t", "short ton", {t_per_short_ton, 1}},
    {"kg/ha", "lb/acre", {kg_per_lb, ha_per_acre}},
    {"kg/t", "lb/short ton", {1, 2}},
    {"kg/m3", "lb/ft3", {kg_per_lb, m3_per_ft3}},
    {"/kg", "/lb", {1, kg_per_lb}},
    {"/ha", "/acre", {1, ha_per_acre}},
    {"/t", "/short ton", {1, t_per_short_ton}},
}};

const MeasuredUnit& unit_of(Measure measure) {
  return units_of_measures[static_cast<std::size_t>(measure)];
}

/// The ends of keys that count in a unit, and whole keys.
struct KeyEnd {
  std::string_view metric;
  std::string_view us;
  bool whole = false;
};

constexpr std::array<KeyEnd, 8> key_ends{{
    {"hectares", "acres", true},
    {"tonnes", "short_tons", true},
    {"kg", "lb", true},
    {"_per_t", "_per_short_ton"},
    {"_kg_per_ha", "_lb_per_acre"},
    {"_kg_per_m3", "_lb_per_ft3"},
    {"stock_kg", "stock_lb", true},
    {"_t", "_short_tons"},
}};

bool is_key_letter(char c) { return c == '_' || (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9'); }

}  // namespace

UnitFactor us_factor(Measure measure) { return unit_of(measure).factor; }

std::string_view to_string(Units units) { return units == Units::us ? "us" : "metric"; }

double to_metric(double value, Measure measure, Units units) {
  if (units == Units::metric) return value;
  const auto [above, below] = us_factor(measure);
  return value * above / below;
}

double from_metric(double value, Measure measure, Units units) {
  if (units == Units::metric) return value;
  const auto [above, below] = us_factor(measure);
  return value * below / above;
}

std::string figure_text(double value, Measure measure, Units units) {
  if (units == Units::metric) return number_text(value);
  constexpr int digits = 12;
  std::array<char, 40> text{};
  const auto end =
      std::to_chars(text.data(), text.data() + text.size(), from_metric(value, measure, units),
                    std::chars_format::general, digits)
          .ptr;
  return {text.data(), end};
}

std::string us_key_of(std::string_view metric_key) {
  for (const KeyEnd& end : key_ends) {
    if (end.whole ? metric_key != end.metric : !metric_key.ends_with(end.metric)) continue;
    return std::string(metric_key.substr(0, metric_key.size() - end.metric.size())) +
           std::string(end.us);
  }
  return {};
}

std::string with_us_keys(std::string_view message) {
  std::string text;
  while (!message.empty()) {
    std::size_t word = 0;
    while (word < message.size() && is_key_letter(message[word])) ++word;
    const std::string_view key = message.substr(0, word);
    const bool is_key = key.find('_') != std::string_view::npos ||
                        message.substr(word, 1) == ":";  // `hectares` may be a mere word
    const std::string us = is_key ? us_key_of(key) : std::string();
    text += us.empty() ? std::string(key) : us;
    message.remove_prefix(word);
    if (message.empty()) break;
    text += message.front();
    message.remove_prefix(1);
  }
  return text;
}

std::string_view unit_name(Measure measure, Units units) {
  const MeasuredUnit& unit = unit_of(measure);
  return units == Units::us ? unit.us : unit.metric;
}

}  // namespace leastwise
