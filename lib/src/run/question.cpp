#include <leastwise/formulate.hpp>
#include <leastwise/question.hpp>

#include <algorithm>
#include <chrono>
#include <iterator>

#include "base/suggest.hpp"
#include "base/text/wording.hpp"
#include "scenario/rules.hpp"

namespace leastwise {
namespace {

/// Letters to change for `candidate`, if it is near: two at most, and none of a word of one letter,
/// one of a word of two or three.
std::optional<std::size_t> edits_to(std::string_view typed, std::string_view candidate) {
  constexpr std::size_t farthest = 2;
  std::size_t all = 0;
  for (;;) {
    const std::size_t space = typed.find(' ');
    const std::size_t other = candidate.find(' ');
    const bool last = space == std::string_view::npos || other == std::string_view::npos;
    const auto word = last ? typed : typed.substr(0, space);
    const auto meant = last ? candidate : candidate.substr(0, other);
    const std::size_t shorter = std::min(word.size(), meant.size());
    const std::size_t edits = word == meant ? 0 : edit_distance(word, meant);
    if (edits > (shorter <= 1 ? 0 : shorter <= 3 ? 1 : farthest)) return std::nullopt;
    all += edits;
    if (last) break;
    typed.remove_prefix(space + 1);
    candidate.remove_prefix(other + 1);
  }
  if (all > farthest) return std::nullopt;
  return all;
}

/// Runs `call`; what the library calls an impossible question is one about `option`.
template <class Call>
auto about(const char* option, Call call) {
  try {
    return call();
  } catch (const QuestionError&) {
    throw;
  } catch (const std::out_of_range& error) {
    throw QuestionError(option, std::string("cannot be answered: ") + error.what());
  } catch (const std::invalid_argument& error) {
    throw QuestionError(option, std::string("cannot be answered: ") + error.what());
  }
}

void expect(bool holds, const char* option, const std::string& message) {
  if (!holds) throw QuestionError(option, message);
}

std::string found(double value) { return ", found " + number_text(value); }

std::vector<std::string> material_names(const Scenario& scenario) {
  std::vector<std::string> names;
  for (const Material& material : scenario.materials()) names.push_back(material.name);
  return names;
}

std::size_t material_of(const Scenario& scenario, const std::string& name, const char* option) {
  if (const auto position = scenario.index_of(name)) return *position;
  throw QuestionError(option, "names " + in_quotes(name) +
                                  ", which is no material of the scenario" +
                                  did_you_mean(name, material_names(scenario)));
}

void check_step(const std::optional<double>& value, const char* option, double least, double most,
                const char* range) {
  if (!value) return;
  expect(*value >= least && *value <= most, option,
         "expects " + std::string(range) + ", found '" + number_text(*value) + "'");
}

Answer answer(const Scenario& scenario, const BlendQuestion& question, const SolveOptions& limits) {
  if (!question.step_kg) {
    expect(!question.batch_kg, "batch_kg", "needs a step");
    expect(!question.batch_hectares, "batch_hectares", "needs a step");
    for (const std::string& name : question.why)
      static_cast<void>(material_of(scenario, name, "why"));
    return formulate(scenario, {.time_limit = limits.time_limit,
                                .stop = limits.stop,
                                .intervals = question.intervals,
                                .why = question.why,
                                .progress = limits.progress});
  }
  expect(question.why.empty(), "why", "speaks of the exact blend, not of one in steps");
  check_step(question.step_kg, "step_kg", 0.001, 1000, "from 0.001 to 1000 kg");
  check_step(question.batch_kg, "batch_kg", 0.001, 1e9, "from 0.001 to 1e9 kg");
  check_step(question.batch_hectares, "batch_hectares", 1e-6, 1e9, "from 1e-6 to 1e9 hectares");
  RoundingOptions how;
  how.step_kg = *question.step_kg;
  how.batch_kg = question.batch_kg;
  how.batch_hectares = question.batch_hectares;
  how.limits = limits;
  return about("step_kg", [&] { return round_to_step(scenario, how); });
}

Limits range_of(const Scenario& scenario, const VariedPrice& varied) {
  const double now =
      scenario.materials()[material_of(scenario, varied.material, "vary")].price_per_t;
  const auto metric = [&](double price) {
    return to_metric(price, Measure::price_of_goods, scenario.draft().units);
  };
  if (varied.range) return {metric(varied.range->min), metric(varied.range->max)};
  expect(now > 0, "vary",
         "needs a range for " + in_quotes(varied.material) + ", whose price now is not above 0");
  return {now / 4, now * 3};
}

/// The rules that speak of what was typed (`K2O` is `grade K2O min`), or the nearest, or all.
std::string meant_rule(const std::string& typed, const std::vector<std::string>& names) {
  std::string list;
  for (const std::string& name : names)
    if (name.find(" " + typed + " ") != std::string::npos)
      list += (list.empty() ? "" : " or ") + in_quotes(name);
  if (!list.empty()) return "; did you mean " + list + "?";
  if (std::string near = did_you_mean(typed, names); !near.empty()) return near;
  for (const std::string& name : names) list += (list.empty() ? "; it has " : ", ") + name;
  return list;
}

/// A limit of the rule of that name, stated in the units of the scenario, as a metric one.
double metric_limit(const Scenario& scenario, std::string_view rule, double limit) {
  for (const auto& known : rules::rules_of(scenario)) {
    if (to_string(known.id) != rule) continue;
    const LimitUnit unit = limit_unit(known.id);
    if (unit == LimitUnit::kg_per_ha)
      return to_metric(limit, Measure::rate, scenario.draft().units);
    if (unit == LimitUnit::kg) return to_metric(limit, Measure::mass, scenario.draft().units);
  }
  return limit;
}

Answer map_of_limit(const Scenario& scenario, const PricesQuestion& question,
                    const SolveOptions& limits) {
  const std::string& rule = question.limit->rule;
  const Limits& range = question.limit->range;
  const auto either_or = either_or_rules(scenario);
  expect(std::ranges::find(either_or, rule) == either_or.end(), "limit",
         "names " + in_quotes(rule) +
             ", an either-or rule of the scenario, whose limit cannot be varied");
  const auto names = rules_with_limits(scenario);
  expect(
      std::ranges::find(names, rule) != names.end(), "limit",
      "names " + in_quotes(rule) + ", which is no rule of the scenario" + meant_rule(rule, names));
  LimitMapOptions how;
  how.limits = limits;
  if (question.samples) {
    expect(*question.samples >= 2 && *question.samples <= 100'000, "samples",
           "expects a whole number from 2 to 100000" + found(*question.samples));
    how.samples = *question.samples;
  }
  const auto metric = [&](double limit) { return metric_limit(scenario, rule, limit); };
  return about("limit", [&] {
    return limit_map(scenario, rule, metric(range.min), metric(range.max), how);
  });
}

Answer answer(const Scenario& scenario, const PricesQuestion& question,
              const SolveOptions& limits) {
  if (question.limit) {
    expect(question.vary.empty(), "limit", "cannot stand beside a price to vary: two maps");
    return map_of_limit(scenario, question, limits);
  }
  expect(!question.samples, "samples", "needs a limit to vary");
  expect(!question.vary.empty(), "vary", "or a limit is needed: say what is to be varied");
  expect(question.vary.size() <= 2, "vary", "takes two materials at most");
  const VariedPrice& first = question.vary.front();
  const Limits range = range_of(scenario, first);
  if (question.vary.size() == 1)
    return about("vary",
                 [&] { return price_map(scenario, first.material, range.min, range.max, limits); });
  const VariedPrice& second = question.vary.back();
  const Limits other = range_of(scenario, second);
  return about("vary", [&] {
    return price_regions(scenario, first.material, range, second.material, other, limits);
  });
}

Answer answer(const Scenario& scenario, const RiskQuestion& question, const SolveOptions& limits) {
  expect(scenario.price_uncertainty().has_value(), "risk",
         "is not stated: the scenario does not say how uncertain its prices are; add to it, say,\n"
         "  risk: {prices: {" +
             scenario.materials().front().name + ": {lognormal_percent: 20}}}");
  RiskOptions how;
  how.threads = question.threads;
  how.limits = limits;
  if (limits.progress)
    how.progress = [tell = limits.progress](long done, long all) { tell({"draws", done, all}); };
  if (!question.draws && !question.seed)
    return about("risk", [&] { return price_risk(scenario, how); });
  ScenarioDraft draft = scenario.draft();
  if (question.draws) {
    expect(*question.draws >= 1 && *question.draws <= most_draws, "draws",
           "expects a whole number from 1 to " + std::to_string(most_draws) +
               found(static_cast<double>(*question.draws)));
    draft.risk->draws = question.draws;
  }
  if (question.seed) draft.risk->seed = question.seed;
  return about("risk", [&] { return price_risk(Scenario(draft), how); });
}

Answer answer(const Scenario& scenario, const AlternativesQuestion& question,
              const SolveOptions& limits) {
  if (!question.within) {
    expect(!question.wish, "within", "is needed for the fewest, the least mass or the least of");
    const int count = question.count.value_or(5);
    expect(count >= 1 && count <= 100'000, "count",
           "expects a whole number from 1 to 100000" + found(count));
    return about("count", [&] { return alternatives(scenario, count, limits); });
  }
  expect(!question.count, "count", "cannot stand beside within: two different questions");
  expect(question.wish.has_value(), "within",
         "needs one wish: the fewest materials, the least mass or the least of a nutrient");
  return about("within", [&] {
    return near_optimum(scenario, *question.within, *question.wish, question.least_of, limits);
  });
}

Answer answer(const Scenario& scenario, const CompareQuestion& question,
              const SolveOptions& limits) {
  if (question.source.empty()) return compare(with_variants(scenario), limits);
  return about("source", [&] { return compare_sources(scenario, question.source, limits); });
}

}  // namespace

Answer ask(const Scenario& scenario, const Question& question, const SolveOptions& limits) {
  return std::visit([&](const auto& one) { return answer(scenario, one, limits); }, question);
}

Scenario with_prices(const Scenario& scenario, std::span<const PriceChange> prices) {
  Scenario changed = scenario;
  for (const auto& [material, price] : prices) {
    static_cast<void>(material_of(scenario, material, "price"));
    try {
      changed = changed.with_price(
          material, to_metric(price, Measure::price_of_goods, scenario.draft().units));
    } catch (const std::invalid_argument& error) {
      throw QuestionError("price", in_quotes(material) + ": " + error.what());
    }
  }
  return changed;
}

RuleId rule_named(const Scenario& scenario, std::string_view name) {
  for (const auto& rule : rules::rules_of(scenario))
    if (to_string(rule.id) == name) return rule.id;
  throw QuestionError("limit", "names " + in_quotes(name) +
                                   ", whose limit the scenario does not state" +
                                   did_you_mean(name, rules_with_limits(scenario)));
}

Scenario with_limit(const Scenario& scenario, std::string_view rule, double limit) {
  return about("limit", [&] {
    return PreparedBlend(scenario).changed(
        {.limits = {{rule_named(scenario, rule), metric_limit(scenario, rule, limit)}}});
  });
}

std::vector<Formulation> ask_many(const PreparedBlend& prepared, std::span<const WhatIf> questions,
                                  unsigned threads, const SolveOptions& limits) {
  using Clock = std::chrono::steady_clock;
  using Seconds = std::chrono::duration<double>;
  constexpr std::size_t at_once = 256;  // few enough to tell of progress and to mind the time
  const auto start = Clock::now();
  const auto all = static_cast<long>(questions.size());
  std::vector<Formulation> answers;
  while (answers.size() < questions.size()) {
    const auto part =
        questions.subspan(answers.size(), std::min(at_once, questions.size() - answers.size()));
    SolveOptions options{.stop = limits.stop, .intervals = false};
    if (limits.time_limit)
      options.time_limit =
          std::max(Seconds(0), Seconds(*limits.time_limit - (Clock::now() - start)));
    auto some =
        about("questions", [&] { return formulate_many(prepared, part, threads, options); });
    std::ranges::move(some, std::back_inserter(answers));
    if (limits.progress) limits.progress({"questions", static_cast<long>(answers.size()), all});
  }
  return answers;
}

std::string did_you_mean(std::string_view word, const std::vector<std::string>& known) {
  const std::string* nearest = nullptr;
  std::size_t distance = std::string::npos;
  for (const std::string& candidate : known) {
    const auto edits = edits_to(word, candidate);
    if (edits && *edits < distance) {
      nearest = &candidate;
      distance = *edits;
    }
  }
  return nearest == nullptr ? std::string{} : "; did you mean '" + *nearest + "'?";
}

}  // namespace leastwise
