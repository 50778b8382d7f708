#include <fmt/format.h>

#include <algorithm>

#include "report/compare_words.hpp"
#include "report/drawing/bars.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/own_units.hpp"
#include "report/kit/sections.hpp"
#include "report/pictures/pictures.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

std::string signed_money(double sum) {
  const std::string text = money_text(sum);
  return text.starts_with('-') ? text : "+" + text;
}

std::string status_words(const ComparedScenario& line) {
  return line.answer.conflict() != nullptr ? "no blend obeys every rule" : "stopped";
}

}  // namespace

Picture alternatives_picture(const Alternatives& list) {
  const std::string title = "What the next-best blends cost more";
  if (list.list.empty()) return ending_picture(title, list.outcome);
  std::vector<Bar> bars;
  for (std::size_t k = 0; k < list.list.size(); ++k) {
    const Alternative& line = list.list[k];
    const std::string apart =
        k == 0 ? std::string() : told_apart(line.blend.portions, list.list.front().blend.portions);
    bars.push_back({apart.empty() ? fmt::format("{}  {}", k + 1, fmt::join(line.materials, ", "))
                                  : fmt::format("{}  {}", k + 1, apart),
                    line.difference,
                    {},
                    fmt::format("{} ({})", money_text(line.cost), signed_money(line.difference))});
  }
  return bar_chart(title,
                   fmt::format("Bar: {} above the cheapest; words: cost, and the difference",
                               cost_heading(list.currency, list.basis, list.units)),
                   bars);
}

Picture near_optimum_picture(const NearOptimum& answer) {
  const std::string title = "The cheapest blend and this one";
  if (!answer.blend) return ending_picture(title, answer.outcome);
  std::vector<std::string> names;
  for (const auto* blend : {&*answer.best, &*answer.blend})
    for (const Portion& p : blend->portions)
      if (std::ranges::find(names, p.material) == names.end()) names.push_back(p.material);
  std::vector<Bar> bars;
  for (const auto& name : names) {
    const double best = kg_of(*answer.best, name);
    const double here = kg_of(*answer.blend, name);
    bars.push_back(
        {name, best, here, fmt::format("{} / {}", amount_text(best), amount_text(here))});
  }
  return bar_chart(title,
                   fmt::format("{}; upper bar: cheapest blend, lower bar: this one",
                               amount_unit(answer.basis, answer.units)),
                   bars);
}

Picture comparison_picture(const Comparison& comparison) {
  const std::string title = comparison.nutrient.empty()
                                ? std::string("Cost side by side")
                                : "Cost by source of " + comparison.nutrient;
  const bool per_hectare = std::ranges::all_of(comparison.lines, [](const auto& line) {
    return line.answer.blend() == nullptr || line.answer.blend()->cost_per_ha;
  });
  const Basis basis = per_hectare ? Basis::per_hectare : Basis::per_tonne;
  const Units units = units_of(comparison);
  // Bars of different currencies must not be held against one another.
  const bool apart = !comparison.lines.empty() && currencies_differ(comparison);
  const std::string currency = comparison.lines.empty() ? "" : comparison.lines.front().currency;
  // Costs that lie close together would be bars of one length: their differences tell them apart.
  const bool to_first = !comparison.lines.empty() && comparison.lines.front().answer.blend();
  const char* legend = to_first ? "{}; bar: the difference to the first line" : "{}";
  std::vector<Bar> bars;
  for (const ComparedScenario& line : comparison.lines) {
    const Blend* blend = line.answer.blend();
    if (blend == nullptr) {
      bars.push_back({line.name, {}, {}, status_words(line)});
      continue;
    }
    const double cost = per_hectare ? *blend->cost_per_ha : blend->cost_per_t;
    if (apart) {
      bars.push_back(
          {line.name,
           {},
           {},
           fmt::format("{} {}", money_text(cost), cost_heading(line.currency, basis, units))});
      continue;
    }
    const auto& difference = per_hectare ? line.difference_per_ha : line.difference_per_t;
    const bool first = &line == &comparison.lines.front();
    bars.push_back({line.name,
                    to_first ? difference.value_or(0) : cost,
                    {},
                    first || !difference
                        ? money_text(cost)
                        : fmt::format("{} ({})", money_text(cost), signed_money(*difference))});
  }
  return bar_chart(
      title,
      apart ? std::string("The lines have different currencies, so the costs have no bars")
            : fmt::format(fmt::runtime(legend), cost_heading(currency, basis, units)),
      bars);
}

Picture rounding_picture(const RoundedBlend& blend) {
  const std::string title = "What to weigh";
  if (blend.portions.empty()) return ending_picture(title, blend.outcome);
  std::vector<Bar> bars;
  for (const WeighedPortion& p : blend.portions)
    bars.push_back({p.material, p.kg_per_batch, {}, plain_text(p.kg_per_batch, 9) + " kg"});
  if (blend.binder && blend.binder->kg_per_batch > 0)
    bars.push_back(
        {blend.binder->material.empty() ? "binder" : blend.binder->material + " (binder)",
         blend.binder->kg_per_batch,
         {},
         plain_text(blend.binder->kg_per_batch, 9) + " kg"});
  return bar_chart(title, fmt::format("kg for a batch of {} kg", plain_text(*blend.batch_kg, 9)),
                   bars);
}

Picture ending_picture(std::string title, const Outcome& outcome) {
  std::vector<std::string> sentences;
  if (outcome.conflict) {
    sentences.emplace_back(outcome.conflict->rules.size() == 1
                               ? "No blend can obey every rule. This one alone cannot be met:"
                               : "No blend can obey every rule. These conflict:");
    for (const auto& rule : outcome.conflict->rules)
      sentences.push_back(rule_in_words(rule.id, rule.limit, rule.unit));
  } else if (outcome.status == Status::stopped) {
    sentences.push_back(with_full_stop(capitalised(outcome.detail)));
  } else {
    sentences.emplace_back("There is nothing to draw.");
  }
  return words_picture(std::move(title), sentences);
}

}  // namespace leastwise::report
