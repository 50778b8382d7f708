#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/declared_table.hpp"
#include "report/indices_section.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/nutrient_cost_section.hpp"
#include "report/pictures/pictures.hpp"
#include "report/purchase_section.hpp"
#include "report/recipe_table.hpp"
#include "report/why_section.hpp"
#include "report/words/price_table.hpp"

namespace leastwise::report {
namespace {

std::string bottom_line(const Blend& blend) {
  const std::string_view t = unit_name(Measure::goods, blend.units);
  const std::string_view ha = unit_name(Measure::land, blend.units);
  const std::string per_t = cost_text(blend.cost_per_t, blend.currency, t);
  if (!blend.cost_per_ha) return fmt::format("The cheapest blend costs {}.", per_t);
  std::string sentence = fmt::format("The cheapest blend costs {} ({})",
                                     cost_text(*blend.cost_per_ha, blend.currency, ha), per_t);
  if (blend.total_kg_per_ha)
    sentence += fmt::format(" at {} {}", amount_text(*blend.total_kg_per_ha),
                            unit_name(Measure::rate, blend.units));
  return sentence + ".";
}

void write_apart(Page& page, const Blend& blend) {
  if (blend.exclusions.empty() && blend.exclusions_complete) return;
  page.heading("Kept apart, and what that costs");
  const std::string_view t = unit_name(Measure::goods, blend.units);
  for (const ExclusionCost& pair : blend.exclusions) {
    const std::string cost = pair.costs_per_ha
                                 ? fmt::format("{} ({})",
                                               cost_text(*pair.costs_per_ha, blend.currency,
                                                         unit_name(Measure::land, blend.units)),
                                               cost_text(pair.costs_per_t, blend.currency, t))
                                 : cost_text(pair.costs_per_t, blend.currency, t);
    const std::string lifting = pair.lifted_by.empty()
                                    ? std::string("Nothing lifts this rule.")
                                    : "To lift this rule knowingly, state " + pair.lifted_by + ".";
    page.item("  - ", fmt::format("{} and {}: {}. {} {}", pair.family_a, pair.family_b, cost,
                                  capitalised(with_full_stop(pair.reason)), lifting));
  }
  if (!blend.exclusions_complete)
    page.item("  ", "What keeping other families apart costs was not computed.");
}

}  // namespace

std::string proof_sentence(std::string_view answer, std::string_view whose,
                           const Certificate& certificate) {
  const double proved_within = std::max(certificate.gap, certificate.dual_violation);
  return fmt::format(
      "No cheaper {} obeys every rule. Checked against the {}'s own numbers: limits met "
      "within {}, cost proved within {} (relative; {} linear program{}).",
      answer, whose, bound_text(certificate.primal_violation), bound_text(proved_within),
      certificate.nodes, certificate.nodes == 1 ? "" : "s");
}

void write_supply(Page& page, const Blend& blend) {
  if (blend.supply.empty()) return;
  page.heading("What it supplies");
  Picture picture = supply_picture(blend);
  if (picture.height > 0)
    page.illustrated(std::move(picture), supply_table(blend));
  else
    page.table(supply_table(blend));
  const bool partly_reached = std::ranges::any_of(blend.supply, [](const Supply& supply) {
    return supply.kg_per_ha && supply.effective_kg_per_ha &&
           *supply.effective_kg_per_ha < *supply.kg_per_ha - 1e-9 * std::fabs(*supply.kg_per_ha);
  });
  if (partly_reached) {
    page.item("  ",
              "\"Reached\" is what the crop is taken to reach: micronutrient granules lie too far "
              "apart to count in full. Minima count what is reached, maxima all that is there.");
  }
}

void write_blend(Page& page, const Blend& blend) {
  page.title(blend.title.empty() ? "Least-cost blend" : blend.title);
  page.paragraph(bottom_line(blend));
  page.paragraph(proof_sentence("blend", "scenario", blend.certificate));
  page.heading("Recipe");
  page.illustrated(cost_picture(blend), recipe_table(blend));
  write_by_quantity(page, blend.purchases, blend.currency, blend.units, "blend");
  write_supply(page, blend);
  write_binding(page, blend);
  write_nutrient_costs(page, blend);
  write_unused(page, blend);
  write_apart(page, blend);
  write_why(page, blend);
  write_indices(page, blend);
  if (blend.declared) write_declared(page, *blend.declared);
  write_notes(page, blend.notes);
  write_safety(page, blend.portions, blend.supply, blend.notes);
}

}  // namespace leastwise::report
