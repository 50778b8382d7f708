#include "run/run_options.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <limits>
#include <span>
#include <utility>

#include "base/codes.hpp"
#include "base/text/wording.hpp"
#include "input/json_document.hpp"
#include "input/text_file.hpp"
#include "input/yaml/keys.hpp"
#include "input/yaml/scenario_keys.hpp"

namespace leastwise::run_door {
namespace {

constexpr std::string_view source = "options";

/// A number, checked to be whole where it must be.
template <class Whole>
void take_whole(NodeReader& reader, const Node& value, const std::string& path,
                std::optional<Whole>& to) {
  // Beyond 2^53 not every whole number is a double.
  constexpr double most =
      std::min(9007199254740992.0, static_cast<double>(std::numeric_limits<Whole>::max()));
  const auto read = reader.number(value, path);
  if (!read) return;
  if (*read != std::floor(*read) || *read < 0 || *read > most)
    reader.error(
        codes::bad_number, path, value.spot,
        "expected a whole number for " + key_of(path) + ", found " + in_quotes(value.text));
  else
    to = static_cast<Whole>(*read);
}

/// `min` to `max` as `{from: 1, to: 2}`.
struct Range {
  std::optional<double> from{};
  std::optional<double> to{};
  std::string rule{};
};

constexpr std::array<Key<Range>, 2> range_keys{{
    {"from", [](NodeReader& reader, const Node& value, const std::string& path,
                Range& range) { range.from = reader.number(value, path); }},
    {"to", [](NodeReader& reader, const Node& value, const std::string& path,
              Range& range) { range.to = reader.number(value, path); }},
}};

constexpr std::array<Key<Range>, 3> limit_keys{{
    {"rule", [](NodeReader& reader, const Node& value, const std::string& path,
                Range& range) { range.rule = reader.text(value, path).value_or(""); }},
    range_keys[0],
    range_keys[1],
}};

std::string nowhere(std::string_view) { return {}; }

/// Both ends of a range; complains when one is missing.
std::optional<Limits> ends_of(NodeReader& reader, const Range& range, const Node& node,
                              const std::string& path) {
  if (range.from && range.to) return Limits{*range.from, *range.to};
  if (node.kind == Node::Kind::mapping)
    reader.error(codes::missing_key, path, node.spot,
                 "a range must have from and to, found one that lacks " +
                     std::string(range.from ? "to" : "from"));
  return std::nullopt;
}

void take_prices(NodeReader& reader, const Node& node, const std::string& path, Options& options) {
  reader.names(node, path, "{urea: 520}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 if (const auto price = reader.number(value, place))
                   options.prices.push_back({key.text, *price});
               });
}

void take_vary(NodeReader& reader, const Node& node, const std::string& path, Options& options) {
  reader.names(node, path, "{urea: {from: 300, to: 600}}",
               [&](const Node& key, const Node& value, const std::string& place) {
                 VariedPrice varied{key.text, {}};
                 if (value.kind != Node::Kind::nothing) {
                   Range range;
                   read_keys<Range>(reader, value, place, "{from: 300, to: 600}", range_keys,
                                    nowhere, range);
                   varied.range = ends_of(reader, range, value, place);
                 }
                 options.prices_map.vary.push_back(std::move(varied));
               });
}

void take_limit(NodeReader& reader, const Node& node, const std::string& path, Options& options) {
  Range range;
  read_keys<Range>(reader, node, path, "{rule: rate N min, from: 40, to: 90}", limit_keys, nowhere,
                   range);
  if (const auto ends = ends_of(reader, range, node, path))
    options.prices_map.limit = VariedLimit{range.rule, *ends};
}

void take_wish(Options& options, SecondaryObjective wish, bool wanted, NodeReader& reader,
               const Node& value, const std::string& path) {
  if (!wanted) return;
  if (options.alternatives.wish)
    reader.error(codes::bad_choice, path, value.spot,
                 "expected one of fewest, least_mass and least_of, found two");
  options.alternatives.wish = wish;
}

constexpr std::array<Key<OtherScenario>, 2> other_keys{{
    {"name", [](NodeReader& reader, const Node& value, const std::string& path,
                OtherScenario& other) { other.name = reader.text(value, path).value_or(""); }},
    {"scenario", [](NodeReader& reader, const Node& value, const std::string& path,
                    OtherScenario& other) { other.text = reader.text(value, path).value_or(""); }},
}};

void take_others(NodeReader& reader, const Node& node, const std::string& path, Options& options) {
  const auto* items = reader.list(node, path, "[{name: autumn, scenario: ...}]");
  if (items == nullptr) return;
  for (std::size_t i = 0; i < items->size(); ++i) {
    OtherScenario other;
    other.path = path_below(path, std::to_string(i));
    read_keys<OtherScenario>(reader, (*items)[i], other.path, "{name: autumn, scenario: ...}",
                             other_keys, nowhere, other);
    if (other.name.empty()) other.name = "scenario " + std::to_string(i + 2);
    options.others.push_back(std::move(other));
  }
}

using OptionKey = Key<Options>;

constexpr OptionKey price{"price", take_prices};
constexpr OptionKey change{
    "change", [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
      options.change = read_variant(reader, value, path, {});
    }};
constexpr OptionKey time_limit{
    "time_limit_s",
    [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
      options.time_limit_s = reader.number(value, path);
      if (options.time_limit_s && *options.time_limit_s <= 0)
        reader.error(
            codes::out_of_range, path, value.spot,
            "expected more than 0 seconds for time_limit_s, found " + in_quotes(value.text));
    }};

template <std::optional<double> BlendQuestion::*Field>
void take_step(NodeReader& reader, const Node& value, const std::string& path, Options& options) {
  options.blend.*Field = reader.number(value, path);
}

constexpr std::array<OptionKey, 9> blend_keys{{
    price,
    change,
    time_limit,
    {"step_kg", take_step<&BlendQuestion::step_kg>},
    {"batch_kg", take_step<&BlendQuestion::batch_kg>},
    {"batch_hectares", take_step<&BlendQuestion::batch_hectares>},
    {"intervals",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       options.blend.intervals = reader.boolean(value, path).value_or(true);
     }},
    {"why",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       options.blend.why = reader.material_names(value, path).value_or(std::vector<std::string>{});
     }},
    {"proof",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       options.proof = reader.boolean(value, path).value_or(false);
     }},
}};

constexpr std::array<OptionKey, 6> prices_keys{{
    price,
    change,
    time_limit,
    {"vary", take_vary},
    {"limit", take_limit},
    {"samples",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       take_whole(reader, value, path, options.prices_map.samples);
     }},
}};

constexpr std::array<OptionKey, 6> risk_keys{{
    price,
    change,
    time_limit,
    {"draws", [](NodeReader& reader, const Node& value, const std::string& path,
                 Options& options) { take_whole(reader, value, path, options.risk.draws); }},
    {"seed", [](NodeReader& reader, const Node& value, const std::string& path,
                Options& options) { take_whole(reader, value, path, options.risk.seed); }},
    {"threads",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       std::optional<unsigned> threads;
       take_whole(reader, value, path, threads);
       constexpr unsigned most = 1024;
       if (threads && *threads > most)
         reader.error(codes::out_of_range, path, value.spot,
                      "expected at most 1024 threads, found " + in_quotes(value.text));
       options.risk.threads = threads.value_or(0);
     }},
}};

constexpr std::array<OptionKey, 8> alternatives_keys{{
    price,
    change,
    time_limit,
    {"count",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       take_whole(reader, value, path, options.alternatives.count);
     }},
    {"within", [](NodeReader& reader, const Node& value, const std::string& path,
                  Options& options) { options.alternatives.within = reader.number(value, path); }},
    {"fewest",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       take_wish(options, SecondaryObjective::fewest_materials,
                 reader.boolean(value, path).value_or(false), reader, value, path);
     }},
    {"least_mass",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       take_wish(options, SecondaryObjective::least_mass,
                 reader.boolean(value, path).value_or(false), reader, value, path);
     }},
    {"least_of",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       options.alternatives.least_of = reader.text(value, path).value_or("");
       take_wish(options, SecondaryObjective::least_of, true, reader, value, path);
     }},
}};

constexpr std::array<OptionKey, 5> compare_keys{{
    price,
    change,
    time_limit,
    {"source",
     [](NodeReader& reader, const Node& value, const std::string& path, Options& options) {
       options.compare.source = reader.text(value, path).value_or("");
     }},
    {"others", take_others},
}};

constexpr std::array<OptionKey, 2> batch_keys{{
    time_limit,
    {"weighed", [](NodeReader& reader, const Node& value, const std::string& path,
                   Options& options) { options.weighed = reader.text(value, path); }},
}};

constexpr std::array<OptionKey, 4> verify_keys{{
    price,
    change,
    time_limit,
    {"proof", [](NodeReader& reader, const Node& value, const std::string& path,
                 Options& options) { options.proof_text = reader.text(value, path); }},
}};

constexpr std::array<OptionKey, 3> reading_keys{{price, change, time_limit}};
constexpr std::array<OptionKey, 1> plan_keys{{time_limit}};  // of trials and seasons

std::span<const OptionKey> keys_of(std::string_view command) {
  if (command == "blend") return blend_keys;
  if (command == "prices") return prices_keys;
  if (command == "risk") return risk_keys;
  if (command == "alternatives") return alternatives_keys;
  if (command == "compare") return compare_keys;
  if (command == "batch") return batch_keys;
  if (command == "plan" || command == "season") return plan_keys;
  if (command == "verify") return verify_keys;
  return reading_keys;
}

}  // namespace

OptionsText::OptionsText(std::string_view command, std::string_view text) {
  if (text.find_first_not_of(" \t\r\n") == std::string_view::npos) return;
  TextFile file = split_text(text);
  Reading reading;
  NodeReader reader(std::string(source), sources_, places_, reading);
  if (!file.good()) {
    reader.report({file.code, "the options " + file.problem, {file.line, file.column, 1}});
    throw InputError(std::move(reading.diagnostics));
  }
  const auto& lines = sources_.emplace(source, std::move(file.lines)).first->second;
  const Document document = parse_document(file.text, lines);
  for (const auto& problem : document.problems) reader.report(problem);
  if (document.complete)
    read_keys<Options>(reader, document.root, {}, R"({"time_limit_s": 5})", keys_of(command),
                       nowhere, options_);
  if (!reading.diagnostics.empty()) throw InputError(std::move(reading.diagnostics));
}

void OptionsText::refuse(const std::string& path, std::string_view code,
                         const std::string& message) const {
  Diagnostic diagnostic;
  diagnostic.code = code;
  diagnostic.message = message;
  diagnostic.path = path;
  const auto place = places_.find(path);
  if (place != places_.end()) {
    diagnostic.place = place->second;
    diagnostic.line_text = line_at(sources_.find(source)->second, place->second);
  }
  throw InputError({std::move(diagnostic)});
}

}  // namespace leastwise::run_door
