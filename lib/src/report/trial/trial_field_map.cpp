#include <fmt/format.h>

#include <algorithm>

#include "report/drawing/canvas.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_field_drawing.hpp"
#include "report/trial/trial_field_words.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

constexpr int rows_on_a_page = 18;

/// `27.5 m x 34 m, with a border of 2 m`; empty where the size of a plot is not known.
std::string size_of_field(const Site& site) {
  if (!site.plot_length_m || !site.plot_width_m) return {};
  const FieldLayout& field = site.field;
  const auto side = [&](int plots, double plot_m, double path_m) {
    return plots * plot_m + (plots - 1) * path_m + 2 * field.border_m;
  };
  const double across =
      side(*field.columns + 2 * field.guard_plots, *site.plot_width_m, field.between_columns_m);
  const double along =
      side(*field.rows, *site.plot_length_m, field.between_rows_m) + 2 * field.headland_m;
  std::string text = fmt::format("The site takes {} m across and {} m along", plain_text(across, 6),
                                 plain_text(along, 6));
  if (field.between_rows_m > 0)
    text += fmt::format(", with {} m between rows", plain_text(field.between_rows_m));
  if (field.between_columns_m > 0)
    text += fmt::format(", {} m between columns", plain_text(field.between_columns_m));
  if (field.headland_m > 0)
    text += fmt::format(", headlands of {} m at both ends", plain_text(field.headland_m));
  if (field.border_m > 0)
    text += fmt::format(", and a border of {} m all round", plain_text(field.border_m));
  return text + ".";
}

std::string walk_text(const Site& site) {
  return fmt::format(
      "The first plot stands at the {} corner (black wedge). {} Thick lines part the replicates. "
      "Not to scale.",
      to_string(site.field.first_plot),
      site.field.serpentine ? "Every second row runs back." : "All rows run the same way.");
}

/// Codes and names of the treatments, in columns.
void write_key(HtmlPage& page, const TrialPlan& plan) {
  page.element("h2", "Treatment key");
  page.raw("<ul class=\"treatments\">\n");
  for (const auto& total : plan.totals) {
    page.raw("<li><b>").raw(escaped(total.code)).raw("</b> ").raw(escaped(total.name));
    page.raw(escaped(", " + products_text(plan, total))).raw("</li>\n");
  }
  page.raw("</ul>\n");
}

}  // namespace

void write_field_map(HtmlPage& page, const TrialPlan& plan, std::size_t site, bool blinded) {
  const Site& place = plan.sites[site];
  int rows = 1;
  const Plot* first_plot = nullptr;
  for (const auto& plot : plan.plots) {
    if (plot.site != site || plot.guard) continue;
    if (first_plot == nullptr) first_plot = &plot;
    rows = std::max(rows, plot.row);
  }
  page.open_sheet(blinded ? "map blinded" : "map");
  page.element("h1", fmt::format("Field map of {} ({}){}", place.name, place.code,
                                 blinded ? ", blinded" : ""));
  page.element("p", walk_text(place));
  if (const auto design = design_text(place); !design.empty()) {
    page.element("p", capitalised(with_full_stop(design)));
  }
  const std::string size = size_of_field(place);
  if (!size.empty()) page.element("p", size);
  for (const auto& line : strip_lines(plan, site))
    page.element("p", capitalised(with_full_stop(line)));
  page.element("p", fmt::format("On stakes and labels plot {} is {}.", first_plot->number,
                                first_plot->code));
  const bool downwards =
      place.field.first_plot == Corner::top_left || place.field.first_plot == Corner::top_right;
  const int parts = (rows + rows_on_a_page - 1) / rows_on_a_page;
  for (int part = 0; part < parts; ++part) {
    const int turn = downwards ? part : parts - 1 - part;  // from the top of the map
    const int first = turn * rows_on_a_page + 1;
    const int last = std::min(rows, first + rows_on_a_page - 1);
    const FieldDrawing drawing = field_drawing(plan, site, blinded, first, last);
    page.raw(fmt::format("<svg class=\"field\" role=\"img\" viewBox=\"0 0 {} {}\">\n",
                         coordinate(drawing.width), coordinate(drawing.height)));
    page.element("title", fmt::format("Plots of {}, rows {} to {}", place.name, first, last));
    page.element("desc", fmt::format("{} plots side by side. The same plots stand in a list under "
                                     "Plots of {}.",
                                     *place.field.columns, place.name));
    page.raw(drawing.body).raw("</svg>\n");
  }
  if (!blinded) write_key(page, plan);
  page.close_sheet();
}

}  // namespace leastwise::report
