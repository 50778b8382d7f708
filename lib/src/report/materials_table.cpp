#include <leastwise/hazard.hpp>

#include <fmt/format.h>
#include <fmt/ranges.h>

#include "report/answers.hpp"
#include "report/kit/numbers.hpp"
#include "report/kit/page.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {
namespace {

std::string contents_line(const Material& material) {
  if (material.contains_percent.empty()) return "no nutrients";
  std::vector<std::string> contents;
  for (const Content& content : material.contains_percent) {
    contents.push_back(fmt::format("{} {}", content.name, report::plain_text(content.percent)));
  }
  return fmt::format("{} %", fmt::join(contents, ", "));
}

std::string physical_line(const Material& material) {
  std::string line;
  if (material.family != material.name) line += fmt::format("family {}; ", material.family);
  if (material.sgn) line += fmt::format("SGN {}; ", report::plain_text(*material.sgn));
  if (material.bulk_density_kg_per_m3) {
    line += fmt::format("{} kg/m3; ", report::plain_text(*material.bulk_density_kg_per_m3));
  }
  if (!material.source.empty()) line += fmt::format("source: {}; ", material.source);
  if (line.size() >= 2) line.resize(line.size() - 2);
  return line;
}

/// `fuel: it is of family ..., and chelates burn (source)`, one sentence for each hazard.
std::vector<std::string> hazard_lines(const Material& material) {
  std::vector<std::string> lines;
  for (const Hazard& hazard : hazards_of(material)) {
    lines.push_back(fmt::format("{}{}{}: {}; source: {}", to_string(hazard.kind),
                                hazard.detail.empty() ? "" : " ", hazard.detail, hazard.reason,
                                hazard.source));
  }
  return lines;
}

report::Table table_of(std::span<const Material> materials) {
  report::Table table;
  table.add_words("material");
  table.add_words("form");
  table.add_words("contains");
  table.add_words("beside");
  table.add_words("hazards");
  for (const Material& material : materials)
    table.add_row({material.name, std::string(to_string(material.form)), contents_line(material),
                   physical_line(material),
                   fmt::format("{}", fmt::join(hazard_lines(material), ". "))});
  return table;
}

}  // namespace

report::Page page_of(std::span<const Material> materials, report::Medium medium) {
  report::Page page(medium);
  page.title("Materials");
  page.paragraph(
      "Contents in percent by mass. Typical values serve for planning; the analysis of the lot at "
      "hand always wins.");
  if (page.in_html()) {
    page.table(table_of(materials));
    return report::without_goods(std::move(page));
  }
  for (const Material& material : materials) {
    page.heading(fmt::format("{} ({})", material.name, to_string(material.form)));
    page.item("  ", contents_line(material));
    if (const std::string line = physical_line(material); !line.empty()) page.item("  ", line);
    for (const std::string& line : hazard_lines(material)) page.item("  ", line);
  }
  return page;
}

}  // namespace leastwise::report
