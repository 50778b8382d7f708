#include <algorithm>
#include <array>
#include <utility>

#include "base/codes.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

template <auto Field>
void take_node(Page&, const Node& value, const std::string&, TreatmentText& text) {
  text.*Field = &value;
}

using T = TreatmentText;
constexpr std::array<Key<TreatmentText>, 12> treatment_keys{{
    {"code", [](Page& page, const Node& value, const std::string& path,
                TreatmentText& text) { text.code = page.text(value, path).value_or(""); }},
    {"nothing",
     [](Page& page, const Node& value, const std::string& path, TreatmentText& text) {
       // One that cannot be read is reported already; it counts as said.
       text.nothing = page.boolean(value, path).value_or(true);
     }},
    {"scenario", take_node<&T::scenario>},
    {"recipe_kg_per_ha", take_node<&T::recipe>},
    {"rates_kg_per_ha", take_node<&T::rates>},
    {"grade_percent", take_node<&T::grades>},
    {"total_kg_per_ha", take_node<&T::total>},
    {"use", take_node<&T::use>},
    {"product_kg_per_ha",
     [](Page& page, const Node& value, const std::string& path, TreatmentText& text) {
       text.product = &value;
       text.product_kg_per_ha = page.number(value, path);
     }},
    {"repeat",
     [](Page& page, const Node& value, const std::string& path, TreatmentText& text) {
       text.repeat = page.whole_number(value, path).value_or(1);
     }},
    {"replicates", [](Page& page, const Node& value, const std::string& path,
                      TreatmentText& text) { text.replicates = page.whole_number(value, path); }},
    {"whole_plot",
     [](Page& page, const Node& value, const std::string& path, TreatmentText& text) {
       text.whole_plot = page.text(value, path).value_or("");
     }},
}};

/// A level is a rate, or limits on one.
std::optional<Limits> read_level(Page& page, const Node& node, const std::string& path) {
  if (node.kind == Node::Kind::mapping) return read_limits(page, node, path);
  const auto rate = page.number(node, path);
  return rate ? std::optional<Limits>({*rate, *rate}) : std::nullopt;
}

/// A factor, and the node of each of its levels.
struct FactorText {
  Factor factor{};
  std::vector<const Node*> nodes{};
};

std::vector<FactorText> read_factors(Page& page, const Node& node, const std::string& path) {
  std::vector<FactorText> factors;
  page.names(node, path, "N: [40, 80, 120]",
             [&](const Node& key, const Node& value, const std::string& place) {
               const auto* levels = page.list(value, place, "[40, 80, 120]");
               if (levels == nullptr) return;
               FactorText text;
               text.factor.nutrient = key.text;
               for (std::size_t i = 0; i < levels->size(); ++i) {
                 const Node& level = (*levels)[i];
                 const auto limits = read_level(page, level, path_below(place, std::to_string(i)));
                 if (!limits) continue;
                 text.factor.levels_kg_per_ha.push_back(*limits);
                 text.nodes.push_back(&level);
               }
               if (levels->empty()) {
                 page.error(codes::missing_key, place, value.spot,
                            "a factor must have levels, such as [40, 80, 120], found none");
               }
               factors.push_back(std::move(text));
             });
  return factors;
}

/// The word of factor `number` in the name of a cell: `Zn1` in `N60 Zn1`.
std::string word_of(const std::string& name, std::size_t number) {
  std::size_t start = 0;
  for (; number > 0; --number) start = name.find(' ', start) + 1;
  return name.substr(start, name.find(' ', start) - start);
}

}  // namespace

void find_whole_plots(Page& page, TrialText& trial) {
  if (trial.whole_plot_factor == nullptr) return;
  const auto factor = page.text(*trial.whole_plot_factor, "whole_plot_factor");
  if (!factor) return;
  bool found = false;
  for (auto& text : trial.treatments) {
    if (text.cell == nullptr) continue;
    const auto& rates = text.cell->rates_kg_per_ha;
    for (std::size_t f = 0; f < rates.size(); ++f) {
      if (rates[f].nutrient != *factor) continue;
      text.whole_plot = word_of(text.cell->name, f);
      found = true;
    }
  }
  if (found) return;
  page.error(codes::unfit_design, "whole_plot_factor", trial.whole_plot_factor->spot,
             "whole_plot_factor must name a nutrient of the factorial, found '" + *factor + "'");
}

void read_treatments(Page& page, const Node& node, const std::string& path, TrialText& trial) {
  page.names(node, path, "control: {nothing: true}",
             [&](const Node& key, const Node& value, const std::string& place) {
               TreatmentText text;
               text.name = key.text;
               text.path = place;
               text.spot = key.spot;
               read_keys<TreatmentText>(page, value, place, "{nothing: true}", treatment_keys,
                                        where_it_belongs_in_a_trial, text);
               trial.treatments.push_back(std::move(text));
             });
}

void read_factorial(Page& page, const Node& node, const std::string& path, TrialText& trial) {
  constexpr std::size_t most = 999;
  const auto factors = read_factors(page, node, path);
  std::vector<Factor> plain;
  std::size_t count = factors.empty() ? 0 : 1;
  for (const auto& text : factors) {
    plain.push_back(text.factor);
    count = std::min(most + 1, count * text.factor.levels_kg_per_ha.size());
  }
  if (count > most) {
    page.error(codes::out_of_range, path, node.spot,
               "a factorial must make at most 999 treatments, found more");
    return;
  }
  trial.cells = factorial_cells(plain);
  for (std::size_t c = 0; c < trial.cells.size(); ++c) {
    TreatmentText text;
    text.name = trial.cells[c].name;
    text.path = path;
    text.spot = node.spot;
    text.cell = &trial.cells[c];
    text.cell_levels.resize(factors.size());
    std::size_t rest = c;
    for (std::size_t f = factors.size(); f > 0; --f) {
      const auto& nodes = factors[f - 1].nodes;
      text.cell_levels[f - 1] = nodes[rest % nodes.size()];
      rest /= nodes.size();
    }
    trial.treatments.push_back(std::move(text));
  }
}

}  // namespace leastwise
