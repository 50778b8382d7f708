#include <leastwise/trial_report.hpp>

#include <fmt/format.h>

#include "report/kit/layout.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/page.hpp"
#include "report/kit/table.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise {
namespace report {
namespace {

Table materials_table(const std::vector<WeighedMaterial>& materials) {
  Table table;
  table.add_words("material");
  for (const auto* heading : {"planned g", "weighed g"}) table.add_numbers(heading);
  for (const auto* heading : {"off by", "lot", "by"}) table.add_words(heading);
  for (const auto& material : materials) {
    table.add_row({material.material, exact_grams(material.planned_mg),
                   plain_text(material.weighed_g, 9), signed_percent(material.deviation_percent),
                   material.lot, material.initials});
  }
  return table;
}

Table achieved_table(const BatchCheck& batch) {
  Table table;
  table.add_words("");
  table.add_words("asked, kg/ha");
  for (const auto* heading : {"planned", "achieved"}) table.add_numbers(heading);
  table.add_words("off by");
  for (const auto& check : batch.nutrients) {
    table.add_row({check.nutrient, asked_text(check.rate_kg_per_ha),
                   plain_text(check.planned_kg_per_ha), plain_text(check.achieved_kg_per_ha),
                   signed_percent(check.deviation_percent)});
  }
  return table;
}

Table rules_table(const BatchCheck& batch) {
  Table table;
  table.add_words("rule");
  for (const auto* heading : {"limit", "came to"}) table.add_numbers(heading);
  for (const auto* heading : {"", ""}) table.add_words(heading);
  for (const auto& rule : batch.rules) {
    std::string verdict(to_string(rule.verdict));
    if (rule.verdict != Verdict::holds) verdict += ", " + miss_text(rule);
    const bool figures = has_figures(rule);
    table.add_row({rule.rule, figures ? plain_text(rule.limit) : "",
                   figures ? plain_text(rule.value) : "", std::string(to_string(rule.unit)),
                   verdict});
  }
  return table;
}

}  // namespace
}  // namespace report

std::string to_text(const WeighedCheck& check, const ReportOptions& options) {
  report::Page page;
  page.title(check.title.empty() ? "What was weighed" : check.title + ": what was weighed");
  page.paragraph(check.verdict == Verdict::holds ? "Every rule holds for every batch listed."
                 : check.verdict == Verdict::within_one_percent
                     ? "Every rule holds to within 1 % for every batch listed."
                     : "At least one rule is broken: see below before anything is spread.");
  for (const auto& mix : check.mixes) {
    page.heading(fmt::format("{}  stock {}", mix.batch, mix.mix));
    page.table(report::materials_table(mix.materials));
  }
  for (const auto& batch : check.batches) {
    page.heading(fmt::format("{}  {}: {}", batch.batch, batch.treatment, to_string(batch.verdict)));
    page.table(report::materials_table(batch.materials));
    page.blank();
    page.item("  ",
              fmt::format("spread at {} kg/ha:", report::plain_text(batch.product_kg_per_ha)));
    page.table(report::achieved_table(batch));
    if (!batch.rules.empty()) {
      page.blank();
      page.table(report::rules_table(batch));
    }
    if (batch.rescue)
      page.warning_item("  - ", report::capitalised(report::with_full_stop(batch.rescue->text)));
    for (const auto& note : batch.notes) {
      page.warning_item(
          "  - ", fmt::format("{}: {}", to_string(note.level), report::with_full_stop(note.text)));
    }
  }
  if (!check.not_weighed.empty()) {
    page.heading("Not in the list");
    for (const auto& code : check.not_weighed) page.item("  - ", code);
  }
  return page.text(options);
}

}  // namespace leastwise
