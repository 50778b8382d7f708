#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/sections.hpp"
#include "report/recipe_table.hpp"

namespace leastwise::report {
namespace {

std::string_view cause_in_words(StopCause cause) {
  switch (cause) {
    case StopCause::time_limit:
      return "the time limit was reached";
    case StopCause::cancelled:
      return "it was cancelled";
    case StopCause::numerical:
      return "the numbers could not be trusted";
  }
  return "the numbers could not be trusted";
}

/// The detail as the end of a sentence, or the bare cause where there is none.
std::string reason(const Stopped& stopped) {
  return with_full_stop(stopped.detail.empty() ? std::string(cause_in_words(stopped.cause))
                                               : stopped.detail);
}

std::string bounds(const Stopped& stopped) {
  const std::string_view basis = unit_of_basis(stopped.basis, stopped.units);
  std::string sentence;
  if (stopped.best_cost) {
    sentence = fmt::format("The best blend so far costs {}.",
                           cost_text(*stopped.best_cost, stopped.currency, basis));
  }
  if (stopped.lower_bound) {
    sentence += fmt::format("{}No blend costs less than {}", sentence.empty() ? "" : " ",
                            cost_text(*stopped.lower_bound, stopped.currency, basis));
    if (stopped.best_cost) {
      const double saving = std::max(0.0, *stopped.best_cost - *stopped.lower_bound);
      sentence += fmt::format(": at most {} could still be saved", money_text(saving));
    }
    sentence += ".";
  }
  return sentence;
}

}  // namespace

void write_stopped(Page& page, const Stopped& stopped) {
  page.title(stopped.title.empty() ? "No proved blend" : stopped.title);
  page.warning(fmt::format("No answer is proved: {}", reason(stopped)));
  if (const std::string known = bounds(stopped); !known.empty()) page.paragraph(known);
  if (stopped.best_portions.empty()) {
    page.paragraph("There is no blend to show.");
  } else {
    page.heading("Best so far, not proved to be the cheapest");
    page.item("  ", "It obeys every rule; binder and fees are in its cost but not in this list.");
    page.table(
        portions_table(stopped.best_portions, stopped.basis, stopped.units, stopped.currency));
  }
  write_notes(page, stopped.notes);
  if (!stopped.best_portions.empty() || page.in_html())
    write_safety(page, stopped.best_portions, {}, stopped.notes);
}

}  // namespace leastwise::report
