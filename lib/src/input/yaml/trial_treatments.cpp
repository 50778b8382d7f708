#include <algorithm>
#include <array>
#include <set>
#include <span>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/yaml/key_locations.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/limits_keys.hpp"
#include "input/yaml/trial_keys.hpp"

namespace leastwise {
namespace {

template <auto Field>
void take_node(NodeReader&, const Node& value, const std::string&, TreatmentText& text) {
  text.*Field = &value;
}

constexpr std::array<std::string_view, 2> source_forms{"coated", "granular"};

void take_without(NodeReader& reader, const Node& value, const std::string& path,
                  TreatmentText& text) {
  if (auto names = reader.material_names(value, path)) text.without = std::move(*names);
}

void take_sources(NodeReader& reader, const Node& value, const std::string& path,
                  TreatmentText& text) {
  reader.names(value, path, "Zn: zinc-oxide",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (auto name = reader.text(node, place))
                   text.only_source_of.emplace_back(key.text, std::move(*name));
               });
}

void take_forms(NodeReader& reader, const Node& value, const std::string& path,
                TreatmentText& text) {
  reader.names(value, path, "Zn: coated",
               [&](const Node& key, const Node& node, const std::string& place) {
                 if (const auto form = reader.choice(node, place, source_forms))
                   text.form_of.emplace_back(
                       key.text, *form == 0 ? SourceForm::coated : SourceForm::granular);
               });
}

using T = TreatmentText;
constexpr std::array<Key<TreatmentText>, 16> treatment_keys{{
    {"code", [](NodeReader& reader, const Node& value, const std::string& path,
                TreatmentText& text) { text.code = reader.text(value, path).value_or(""); }},
    {"nothing",
     [](NodeReader& reader, const Node& value, const std::string& path, TreatmentText& text) {
       // One that cannot be read is reported already; it counts as said.
       text.nothing = reader.boolean(value, path).value_or(true);
     }},
    {"scenario", take_node<&T::scenario>},
    {"recipe_kg_per_ha", take_node<&T::recipe>},
    {"rates_kg_per_ha", take_node<&T::rates>},
    {"grade_percent", take_node<&T::grades>},
    {"total_kg_per_ha", take_node<&T::total>},
    {"use", take_node<&T::use>},
    {"product_kg_per_ha",
     [](NodeReader& reader, const Node& value, const std::string& path, TreatmentText& text) {
       text.product = &value;
       text.product_kg_per_ha = reader.number(value, path);
     }},
    {"repeat",
     [](NodeReader& reader, const Node& value, const std::string& path, TreatmentText& text) {
       text.repeat = reader.whole_number(value, path).value_or(1);
     }},
    {"replicates", [](NodeReader& reader, const Node& value, const std::string& path,
                      TreatmentText& text) { text.replicates = reader.whole_number(value, path); }},
    {"whole_plot",
     [](NodeReader& reader, const Node& value, const std::string& path, TreatmentText& text) {
       text.whole_plot = reader.text(value, path).value_or("");
     }},
    {"split_percent", [](NodeReader& reader, const Node& value, const std::string& path,
                         TreatmentText& text) { text.splits = read_splits(reader, value, path); }},
    {"without", take_without},
    {"only_source_of", take_sources},
    {"form_of", take_forms},
}};

/// A level is a rate, or limits on one.
std::optional<Limits> read_level(NodeReader& reader, const Node& node, const std::string& path) {
  if (node.kind == Node::Kind::mapping) return read_limits(reader, node, path);
  const auto rate = reader.number(node, path);
  return rate ? std::optional<Limits>({*rate, *rate}) : std::nullopt;
}

/// One level of a factor: a rate of a nutrient, or keys of a treatment under a name.
struct LevelText {
  std::string word{};  ///< in the name of a treatment: `N60`, `coated`
  TargetDraft rate{};  ///< of a nutrient
  const Node* node = nullptr;
  TreatmentText keys{};  ///< of a named level
};

/// A factor with its levels: a nutrient, or anything that treatments may differ in.
struct FactorText {
  std::string name{};
  bool nutrient = true;
  std::vector<LevelText> levels{};
};

void read_rates(NodeReader& reader, const Node& value, const std::string& place,
                FactorText& factor) {
  const auto* levels = reader.list(value, place, "[40, 80, 120]");
  if (levels == nullptr) return;
  for (std::size_t i = 0; i < levels->size(); ++i) {
    const Node& node = (*levels)[i];
    const auto limits = read_level(reader, node, path_below(place, std::to_string(i)));
    if (!limits) continue;
    const Factor alone{factor.name, {*limits}};
    const auto cells = factorial_cells(std::span(&alone, 1));
    factor.levels.push_back({cells.front().name, cells.front().rates_kg_per_ha.front(), &node, {}});
  }
  if (levels->empty()) {
    reader.error(codes::missing_key, place, value.spot,
                 "a factor must have levels, such as [40, 80, 120], found none");
  }
}

void read_named_levels(NodeReader& reader, const Node& value, const std::string& place,
                       FactorText& factor) {
  factor.nutrient = false;
  reader.names(value, place, "coated: {form_of: {Zn: coated}}",
               [&](const Node& key, const Node& node, const std::string& path) {
                 LevelText level;
                 level.word = key.text;
                 level.node = &node;
                 read_treatment(reader, node, path, level.keys);
                 factor.levels.push_back(std::move(level));
               });
  if (factor.levels.empty()) reader.mark_unreadable(place);
  if (value.entries.empty()) {
    reader.error(
        codes::missing_key, place, value.spot,
        "a factor must have levels, such as {coated: {form_of: {Zn: coated}}}, found none");
  }
}

std::vector<FactorText> read_factors(NodeReader& reader, const Node& node,
                                     const std::string& path) {
  std::vector<FactorText> factors;
  reader.names(node, path, "N: [40, 80, 120]",
               [&](const Node& key, const Node& value, const std::string& place) {
                 FactorText factor;
                 factor.name = key.text;
                 if (value.kind == Node::Kind::mapping) {
                   read_named_levels(reader, value, place, factor);
                 } else {
                   read_rates(reader, value, place, factor);
                 }
                 factors.push_back(std::move(factor));
               });
  return factors;
}

/// Puts what a level states into a treatment; a key that two factors state is an error.
class LevelMerger {
 public:
  /// `said` are the levels that were reported for another treatment.
  LevelMerger(NodeReader& reader, TreatmentText& text, std::set<const Node*>& said)
      : reader_(reader), text_(text), said_(said) {}

  void add(const FactorText& factor, const LevelText& level) {
    const TreatmentText& from = level.keys;
    const auto node = [&](const Node* TreatmentText::*field, std::string_view key) {
      if (from.*field == nullptr) return;
      if (text_.*field != nullptr) return twice(factor, level, key);
      text_.*field = from.*field;
    };
    const auto list = [&](auto TreatmentText::*field, std::string_view key) {
      if ((from.*field).empty()) return;
      if (!(text_.*field).empty()) return twice(factor, level, key);
      text_.*field = from.*field;
    };
    node(&T::scenario, "scenario");
    node(&T::recipe, "recipe_kg_per_ha");
    node(&T::rates, "rates_kg_per_ha");
    node(&T::grades, "grade_percent");
    node(&T::total, "total_kg_per_ha");
    node(&T::use, "use");
    node(&T::product, "product_kg_per_ha");
    list(&T::splits, "split_percent");
    list(&T::without, "without");
    if (from.product_kg_per_ha) text_.product_kg_per_ha = from.product_kg_per_ha;
    if (from.replicates) text_.replicates = from.replicates;
    text_.repeat = std::max(text_.repeat, from.repeat);
    text_.nothing = text_.nothing || from.nothing;
    const auto append = [](auto& to, const auto& more) {
      to.insert(to.end(), more.begin(), more.end());
    };
    append(text_.only_source_of, from.only_source_of);
    append(text_.form_of, from.form_of);
  }

 private:
  void twice(const FactorText& factor, const LevelText& level, std::string_view key) {
    if (!said_.insert(level.node).second) return;
    reader_.error(codes::treatment_kind, "factorial", level.node->spot,
                  "two factors of the factorial must not state the same key, found " +
                      std::string(key) + " again in level " + in_quotes(level.word) + " of " +
                      in_quotes(factor.name));
  }

  NodeReader& reader_;
  TreatmentText& text_;
  std::set<const Node*>& said_;
};

/// Which level of each factor makes treatment `c`; the last factor runs fastest.
std::vector<std::size_t> levels_of(const std::vector<FactorText>& factors, std::size_t c) {
  std::vector<std::size_t> levels(factors.size());
  for (std::size_t f = factors.size(); f > 0; --f) {
    const std::size_t count = factors[f - 1].levels.size();
    levels[f - 1] = c % count;
    c /= count;
  }
  return levels;
}

}  // namespace

void find_whole_plots(NodeReader& reader, TrialText& trial) {
  if (trial.whole_plot_factor == nullptr) return;
  const auto factor = reader.text(*trial.whole_plot_factor, "whole_plot_factor");
  if (!factor) return;
  bool found = false;
  for (auto& text : trial.treatments) {
    for (const auto& [name, word] : text.levels) {
      if (name != *factor) continue;
      text.whole_plot = word;
      found = true;
    }
  }
  if (found) return;
  reader.error(codes::unfit_design, "whole_plot_factor", trial.whole_plot_factor->spot,
               "whole_plot_factor must name a factor of the factorial, found '" + *factor + "'");
}

void read_treatment(NodeReader& reader, const Node& node, const std::string& path,
                    TreatmentText& text) {
  read_keys<TreatmentText>(reader, node, path, "{nothing: true}", treatment_keys,
                           where_it_belongs_in_a_trial, text);
}

void read_treatments(NodeReader& reader, const Node& node, const std::string& path,
                     TrialText& trial) {
  reader.names(node, path, "control: {nothing: true}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 TreatmentText text;
                 text.name = key.text;
                 text.path = place;
                 text.spot = key.spot;
                 read_treatment(reader, value, place, text);
                 trial.treatments.push_back(std::move(text));
               });
}

void read_factorial(NodeReader& reader, const Node& node, const std::string& path,
                    TrialText& trial) {
  constexpr std::size_t most = 999;
  const auto factors = read_factors(reader, node, path);
  std::size_t count = factors.empty() ? 0 : 1;
  for (const auto& factor : factors) count = std::min(most + 1, count * factor.levels.size());
  if (count > most) {
    reader.error(codes::out_of_range, path, node.spot,
                 "a factorial must make at most 999 treatments, found more");
    return;
  }
  trial.cells.resize(count);
  std::set<const Node*> said;
  for (std::size_t c = 0; c < count; ++c) {
    TreatmentText text;
    text.path = path;
    text.spot = node.spot;
    text.cell = &trial.cells[c];
    const auto levels = levels_of(factors, c);
    for (std::size_t f = 0; f < factors.size(); ++f) {
      const LevelText& level = factors[f].levels[levels[f]];
      text.name += (text.name.empty() ? "" : " ") + level.word;
      text.levels.emplace_back(factors[f].name, level.word);
      if (factors[f].nutrient) {
        trial.cells[c].rates_kg_per_ha.push_back(level.rate);
        text.cell_levels.push_back(level.node);
      } else {
        LevelMerger(reader, text, said).add(factors[f], level);
      }
    }
    trial.cells[c].name = text.name;
    trial.treatments.push_back(std::move(text));
  }
}

}  // namespace leastwise
