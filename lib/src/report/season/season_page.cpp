#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/answers.hpp"
#include "report/kit/answer_cells.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/page.hpp"
#include "report/kit/sections.hpp"
#include "report/purchase_section.hpp"
#include "report/season/season_words.hpp"
#include "report/words/recipe_notes.hpp"
#include "report/words/rule_words.hpp"

namespace leastwise::report {
namespace {

/// A difference of sums of money that is more than rounding.
constexpr double one_cent = 0.005;

double season_net(const SeasonPlan& plan) { return plan.cost.value() - plan.revenue.value_or(0); }

std::string season_sum(const SeasonPlan& plan, double sum) {
  return fmt::format("{} {}", money_text(sum), currency_words(plan.currency));
}

std::string season_bottom_line(const SeasonPlan& plan) {
  double tonnes = 0;
  long made = 0;
  for (const auto& blend : plan.blends) {
    tonnes += blend.tonnes;
    made += blend.blend ? 1 : 0;
  }
  std::string words = fmt::format("{}, {} t in all, cost {}", counted(made, "blend"),
                                  amount_text(tonnes), season_sum(plan, plan.cost.value()));
  if (plan.storage_cost > 0.0)
    words += fmt::format(", of which storage {}", money_text(*plan.storage_cost));
  words += ".";
  if (!plan.revenue) return words;
  const bool all =
      std::ranges::all_of(plan.blends, [](const auto& b) { return b.revenue.has_value(); });
  return words +
         (all ? fmt::format(" They sell for {}, which leaves {}.", season_sum(plan, *plan.revenue),
                            money_text(*plan.revenue - plan.cost.value()))
              : fmt::format(" Those with a selling price bring {}.",
                            season_sum(plan, *plan.revenue)));
}

bool buys_together(const SeasonPlan& plan) {
  return !plan.by_quantity.empty() || !plan.transport.empty();
}

/// What the same would come to without planning the blends together, and without limits.
std::string season_comparison(const SeasonPlan& plan) {
  std::string words;
  const double net = season_net(plan);
  if (plan.one_by_one) {
    const OneByOne& one = *plan.one_by_one;
    if (one.status == Status::optimal && one.cost > net + one_cent)
      words = fmt::format("Planned one by one, in the order of the file, they would leave {} less.",
                          season_sum(plan, *one.cost - net));
    if (one.status == Status::optimal && one.cost > net + one_cent && !plan.revenue)
      words =
          fmt::format("Planned one by one, in the order of the file, they would cost {}: {} more.",
                      season_sum(plan, *one.cost), money_text(*one.cost - net));
    if (one.status == Status::optimal && one.cost <= net + one_cent)
      words = "Planned one by one, in the order of the file, they would cost the same.";
    if (one.status == Status::infeasible && one.blend)
      words = fmt::format(
          "Planned one by one, in the order of the file, too little would be left for {}: no "
          "recipe "
          "obeys its rules then.",
          plan.blends[*one.blend].name);
    if (one.status == Status::infeasible && !one.blend)
      words =
          "Planned one by one, in the order of the file, they would take less of a material than "
          "must be taken.";
  }
  const double limits_cost = net - plan.cost_apart.value();
  if (limits_cost > one_cent)
    words += fmt::format("{}The shared limits cost {} against a yard with enough of everything{}.",
                         words.empty() ? "" : " ", season_sum(plan, limits_cost),
                         buys_together(plan) ? ", all at its best price" : "");
  return words;
}

std::string optional_money(const Known<double>& sum) { return sum ? money_text(*sum) : ""; }

Table season_blends(const SeasonPlan& plan) {
  Table table;
  const std::string money(currency_words(plan.currency));
  table.add_words("blend");
  table.add_words("period");
  for (const std::string& heading :
       {std::string("t"), std::string("ha"), "cost, " + money, money + "/t",
        "alone, " + money + "/t", std::string("one more costs"), "sells for, " + money})
    table.add_numbers(heading);
  for (const auto& blend : plan.blends)
    table.add_row({blend.name, plan.periods.empty() ? "" : plan.periods[blend.period],
                   amount_text(blend.tonnes), blend.hectares ? plain_text(*blend.hectares) : "",
                   money_text(blend.cost),
                   blend.tonnes > 0 ? money_text(blend.cost / blend.tonnes) : "",
                   optional_money(blend.cost_alone_per_t), optional_money(blend.marginal_cost),
                   blend.revenue ? money_text(*blend.revenue) : ""});
  return table;
}

void write_season_blends(Page& page, const SeasonPlan& plan) {
  page.heading("What is made");
  page.table(season_blends(plan));
  page.item(
      "  ",
      std::string("\"Alone\" is the cheapest recipe if nothing were shared") +
          (buys_together(plan) ? " and all came at the best of its prices" : "") +
          ". \"One more\" is what a tonne more of the blend, or a hectare, adds to the cost of "
          "the whole season.");
  page.heading("Recipes");
  Table table;
  table.add_words("blend");
  table.add_words("kg per tonne of product");
  for (const auto& blend : plan.blends)
    table.add_row({blend.name, blend.blend ? recipe_words(blend.blend->portions) : "none is made"});
  page.table(table);
}

Table shared_table(const SeasonPlan& plan) {
  Table table;
  table.add_words("limit");
  const std::string money(currency_words(plan.currency));
  for (const std::string& heading :
       {std::string("used, kg"), "one t more, " + money, "one t less, " + money,
        std::string("from, kg"), std::string("to, kg")})
    table.add_numbers(heading);
  const auto end = [](const Known<double>& kg) {
    return kg.is_none() ? std::string("no end") : kg ? amount_text(*kg) : std::string("?");
  };
  const auto less = [](const Known<double>& price) {
    return price ? change_words(-*price) : change_words(price);
  };
  for (const auto& limit : plan.shared)
    table.add_row({shared_words(plan, limit), amount_text(limit.used_kg),
                   change_words(limit.price_above_per_t), less(limit.price_below_per_t),
                   end(limit.holds_from_kg), end(limit.holds_to_kg)});
  return table;
}

/// Who takes the scarce material and who does without, and what that costs a tonne.
Table uses_table(const SeasonPlan& plan) {
  Table table;
  table.add_words("material");
  table.add_words("blend");
  for (const std::string& heading :
       {std::string("takes, kg"), std::string("alone, kg"), std::string("goes without, kg"),
        fmt::format("dearer by, {}/t", currency_words(plan.currency))})
    table.add_numbers(heading);
  for (const auto& limit : plan.shared) {
    if (!is_scarce(limit)) continue;
    for (const auto& use : limit.uses) {
      const auto& blend = plan.blends[use.blend];
      const double without = use.kg_alone - use.kg;
      const double dearer = blend.tonnes > 0 && blend.cost_alone_per_t
                                ? blend.cost / blend.tonnes - *blend.cost_alone_per_t
                                : 0;
      table.add_row({limit.material + by_period(plan, limit.period), blend.name,
                     amount_text(use.kg), amount_text(use.kg_alone),
                     without > 1e-6 ? amount_text(without) : "",
                     dearer > one_cent ? money_text(dearer) : ""});
    }
  }
  return table;
}

void write_shared(Page& page, const SeasonPlan& plan) {
  if (plan.shared.empty()) return;
  page.heading("What is shared");
  page.table(shared_table(plan));
  page.item("  ",
            "\"One t more\" and \"one t less\" are what a tonne more or less of that limit alone "
            "adds to the cost, while it lies between \"from\" and \"to\". A price of 0: the limit "
            "is not reached.");
  if (std::ranges::none_of(plan.shared, is_scarce)) return;
  page.heading("Who takes what is scarce");
  page.illustrated(scarce_picture(plan), uses_table(plan));
  page.item("  ",
            "A scarce material goes where a replacement costs most. \"Dearer by\" is what the "
            "blend costs more than alone, for all that is scarce.");
}

void write_purchases(Page& page, const SeasonPlan& plan) {
  page.heading("What it takes");
  Table table;
  table.add_words("period");
  table.add_words("material");
  table.add_numbers("kg");
  table.add_numbers(std::string(currency_words(plan.currency)));
  for (const auto& purchase : plan.purchases)
    table.add_row({plan.periods.empty() ? "" : plan.periods[purchase.period], purchase.material,
                   amount_text(purchase.kg), money_text(purchase.cost)});
  page.table(table);
}

void write_transport(Page& page, const SeasonPlan& plan) {
  if (plan.transport.empty()) return;
  page.heading("What comes from which yard");
  Table table;
  table.add_words("material");
  table.add_words("yard");
  table.add_numbers("kg");
  table.add_numbers("transport, " + std::string(currency_words(plan.currency)));
  for (const SeasonTransport& load : plan.transport)
    table.add_row({load.material, load.yard, amount_text(load.kg), money_text(load.cost)});
  page.table(table);
}

void write_runs(Page& page, const SeasonPlan& plan) {
  if (plan.runs.empty()) return;
  page.heading("Bins of the runs");
  Table table;
  table.add_words("run");
  table.add_numbers("bins");
  table.add_words("granular materials");
  table.add_numbers("one more saves, " + std::string(currency_words(plan.currency)));
  for (const SeasonRunPlan& run : plan.runs) {
    std::string names;
    for (const std::string& name : run.materials) names += (names.empty() ? "" : ", ") + name;
    table.add_row(
        {run.name, std::to_string(run.bins), names, optional_money(run.saved_by_one_more)});
  }
  page.table(table);
}

void write_season_notes(Page& page, const SeasonPlan& plan) {
  std::vector<RecipeShown> recipes;
  std::vector<std::string> names;
  for (const auto& blend : plan.blends)
    if (blend.blend) {
      recipes.push_back(shown(*blend.blend));
      names.push_back(blend.name);
    }
  const auto notes = recipe_notes({}, recipes);
  const RecipeNames called{"blend", "blends", {}, [&](std::size_t i) { return names[i]; }};
  const auto sentences = named_notes(notes, recipes.size(), called);
  write_notes_and_safety(page, sentences, recipes);
}

void write_plan(Page& page, const SeasonPlan& plan) {
  page.paragraph(season_bottom_line(plan));
  if (const auto words = season_comparison(plan); !words.empty()) page.paragraph(words);
  page.paragraph(proof_sentence("plan", "season", plan.certificate));
  write_season_blends(page, plan);
  write_shared(page, plan);
  write_purchases(page, plan);
  write_by_quantity(page, plan.by_quantity, plan.currency, Units::metric, "season");
  write_transport(page, plan);
  write_runs(page, plan);
  write_season_notes(page, plan);
}

void write_impossible(Page& page, const SeasonPlan& plan) {
  page.heading("Blends that no stock can serve");
  for (const auto& blend : plan.impossible)
    for (const auto& rule : blend.conflict.rules)
      page.item("  - ", conflict_words(plan, {SeasonConflictRule::Of::blend, blend.blend,
                                              blend.name, 0, rule}));
  page.item("  ",
            "The rules of each of these blends contradict one another, whatever there is: "
            "leastwise blend tells what to change.");
}

void write_season_conflict(Page& page, const SeasonPlan& plan) {
  page.warning("No plan obeys every rule of this season.");
  if (!plan.impossible.empty()) return write_impossible(page, plan);
  page.heading("The rules that conflict");
  for (const auto& rule : plan.conflict) page.item("  - ", conflict_words(plan, rule));
  page.item("  ", plan.irreducible
                      ? "Each of them has its part in this: drop any one and the rest agree."
                      : "Some of them may not be needed for the conflict; the search for the "
                        "fewest did not finish.");
}

}  // namespace

Page page_of(const SeasonPlan& plan, Medium medium) {
  Page page(medium);
  page.title(plan.title.empty() ? "Season" : plan.title);
  switch (plan.outcome.status) {
    case Status::optimal:
      write_plan(page, plan);
      return page;
    case Status::infeasible:
      write_season_conflict(page, plan);
      break;
    case Status::stopped:
      page.warning(fmt::format("No plan is proved: {}", with_full_stop(plan.outcome.detail)));
      break;
  }
  return without_goods(std::move(page));
}

}  // namespace leastwise::report
