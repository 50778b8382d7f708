#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>

#include "report/drawing/canvas.hpp"
#include "report/kit/layout.hpp"
#include "report/kit/markup.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_applications.hpp"
#include "report/trial/trial_sheets.hpp"
#include "report/trial/trial_words.hpp"

namespace leastwise::report {
namespace {

// Units of a map: `map_width` of them are the width of the page, 186 mm on A4, so that one is
// 0.75 pt and letters of 15 are 11 pt.
constexpr double map_width = 700;
constexpr double map_margin = 34;       // for the numbers of rows
constexpr double map_arrow_width = 46;  // for the north arrow, at the right
constexpr double map_row_height = 44;
constexpr double map_foot = 24;  // for the numbers of columns
constexpr double map_head = 6;
constexpr double map_widest_plot = 104;
constexpr double map_strip = 28;  // of a headland
constexpr int rows_on_a_page = 18;

/// The plots of a site by their place.
class FieldMap {
 public:
  FieldMap(const TrialPlan& plan, std::size_t site, bool blinded)
      : plan_(plan), field_(plan.sites[site].field), blinded_(blinded) {
    for (const auto& plot : plan.plots) {
      if (plot.site != site || plot.again) continue;
      if (plot.strip == StripKind::none) plots_[{plot.row, plot.column}] = &plot;
      if (plot.strip == StripKind::headland) headlands_.push_back(&plot);
    }
    strip_ = field_.headland_m > 0 ? map_strip : 0;
    columns_ = *field_.columns;
    last_of_all_ = *field_.rows;
    guards_ = field_.guard_plots;
    width_ = std::min(map_widest_plot,
                      (map_width - map_margin - map_arrow_width) / (columns_ + 2 * guards_));
  }

  /// The rows from `first` to `last` as the body of a drawing.
  std::string rows(int first, int last) {
    first_ = first;
    last_ = last;
    for (const auto& [place, plot] : plots_) {
      if (place.first >= first && place.first <= last) draw_plot(*plot);
    }
    for (const auto& [place, plot] : plots_) {
      if (place.first >= first && place.first <= last) draw_edges(*plot);
    }
    if (strip_ > 0) draw_headlands();
    number_rows_and_columns();
    draw_north();
    return std::move(canvas_).body();
  }

  [[nodiscard]] double height(int rows) const {
    return map_head + rows * map_row_height + map_foot + 2 * strip_;
  }

 private:
  [[nodiscard]] bool from_the_top() const {
    return field_.first_plot == Corner::top_left || field_.first_plot == Corner::top_right;
  }
  [[nodiscard]] bool from_the_right() const {
    return field_.first_plot == Corner::bottom_right || field_.first_plot == Corner::top_right;
  }

  /// Where the plot at `row` and `column` begins, from the left and from the top.
  [[nodiscard]] SourceSpan corner_of(int row, int column) const {
    const int across = guards_ + (from_the_right() ? columns_ - column : column - 1);
    const int down = from_the_top() ? row - first_ : last_ - row;
    return {map_margin + across * width_, map_head + strip_ + down * map_row_height};
  }

  void draw_plot(const Plot& plot) {
    const SourceSpan at = corner_of(plot.row, plot.column);
    const TreatmentPlan& treatment = plan_.treatments[plot.treatment];
    const bool bare = !blinded_ && treatment.state == TreatmentState::nothing;
    canvas_.rectangle(at.x, at.y, width_, map_row_height, bare ? "plot bare" : "plot");
    const double middle = at.x + width_ / 2;
    const double small = width_ < 36 ? 34 : 17;  // a narrow plot has its number below
    if (blinded_) {
      canvas_.text(middle, at.y + 27, plot_number_text(plot), "middle strong");
      return;
    }
    canvas_.text(middle, at.y + small, plot_number_text(plot), "middle quiet");
    const double large = width_ < 36 ? 18 : 35;
    const bool unmade = state_of_plot(treatment) == "not made";
    canvas_.text(middle, at.y + large, (unmade ? "!" : "") + treatment.treatment_code,
                 code_class(treatment.treatment_code));
  }

  /// A code that is wider than its plot is set in smaller letters.
  [[nodiscard]] std::string_view code_class(const std::string& code) const {
    const double wide = width_of(code) * 1.35;  // the letters of codes are larger
    return wide <= width_ ? "middle code" : wide <= 1.6 * width_ ? "middle strong" : "middle tiny";
  }

  [[nodiscard]] const Plot* at(int row, int column) const {
    const auto found = plots_.find({row, column});
    return found == plots_.end() ? nullptr : found->second;
  }

  /// Thick between replicates and round the site, less so between the blocks of a replicate.
  void draw_edges(const Plot& plot) {
    const SourceSpan at_left = corner_of(plot.row, plot.column);
    const SourceSpan opposite{at_left.x + width_, at_left.y + map_row_height};
    const bool mirrored = from_the_right();
    const bool upright = !from_the_top();
    const auto edge = [&](const Plot* other, SourceSpan from, SourceSpan to) {
      const bool thick = other == nullptr || other->replicate != plot.replicate;
      if (thick || other->block != plot.block) canvas_.line(from, to, thick ? "edge" : "seam");
    };
    const Plot* before = at(plot.row, plot.column - 1);
    const Plot* after = at(plot.row, plot.column + 1);
    const Plot* ahead = at(plot.row + 1, plot.column);
    const Plot* behind = at(plot.row - 1, plot.column);
    edge(mirrored ? after : before, at_left, {at_left.x, opposite.y});
    edge(mirrored ? before : after, {opposite.x, at_left.y}, opposite);
    edge(upright ? ahead : behind, at_left, {opposite.x, at_left.y});
    edge(upright ? behind : ahead, {at_left.x, opposite.y}, opposite);
  }

  /// The turning areas beyond the first and the last row, where these are on this page.
  void draw_headlands() {
    const double left = map_margin;
    const double wide = (columns_ + 2 * guards_) * width_;
    for (const bool first : {true, false}) {
      if (first ? first_ != 1 : last_ != last_of_all_) continue;
      const bool above = first == from_the_top();
      const double top =
          above ? map_head : map_head + strip_ + (last_ - first_ + 1) * map_row_height;
      canvas_.rectangle(left, top, wide, strip_, "plot headland");
      canvas_.text(left + wide / 2, top + strip_ / 2 + 5, headland_text(first), "middle quiet");
    }
  }

  [[nodiscard]] std::string headland_text(bool first) const {
    std::string text = fmt::format("headland {} m", plain_text(field_.headland_m));
    for (const auto* plot : headlands_) {
      if ((plot->row == 0) != first) continue;
      text += ", " + plot_number_text(*plot);
      if (!blinded_) text += " " + plan_.treatments[plot->treatment].treatment_code;
    }
    return text;
  }

  void number_rows_and_columns() {
    for (int row = first_; row <= last_; ++row) {
      const SourceSpan at = corner_of(row, 1);
      canvas_.text(map_margin - 8, at.y + map_row_height / 2 + 4, std::to_string(row), "end quiet");
    }
    const double base = map_head + 2 * strip_ + (last_ - first_ + 1) * map_row_height + 17;
    for (int column = 1; column <= columns_; ++column) {
      canvas_.text(corner_of(first_, column).x + width_ / 2, base, std::to_string(column),
                   "middle quiet");
    }
    if (first_ > 1) return;
    const SourceSpan first = corner_of(1, 1);  // a wedge in the corner of the first plot
    const double x = from_the_right() ? first.x + width_ : first.x;
    const double y = from_the_top() ? first.y : first.y + map_row_height;
    const double right = from_the_right() ? -13 : 13;
    const double down = from_the_top() ? 13 : -13;
    canvas_.polygon({{x, y}, {x + right, y}, {x, y + down}}, "ink");
  }

  void draw_north() {
    const double angle = field_.north_degrees / 180 * std::numbers::pi;
    const SourceSpan middle{map_width - map_arrow_width / 2 + 4, map_head + 34};
    const auto turned = [&](double x, double y) {
      return SourceSpan{middle.x + x * std::cos(angle) - y * std::sin(angle),
                        middle.y + x * std::sin(angle) + y * std::cos(angle)};
    };
    canvas_.line(turned(0, 18), turned(0, -8), "edge");
    canvas_.polygon({turned(0, -20), turned(-7, -4), turned(7, -4)}, "ink");
    const SourceSpan letter = turned(0, -29);
    canvas_.text(letter.x, letter.y + 5, "N", "middle strong");
  }

  const TrialPlan& plan_;
  const FieldLayout& field_;
  bool blinded_;
  std::map<std::pair<int, int>, const Plot*> plots_{};
  std::vector<const Plot*> headlands_{};
  double strip_ = 0;     ///< height of a headland
  int last_of_all_ = 1;  ///< row of the site
  int columns_ = 1;
  int guards_ = 0;
  double width_ = 0;
  int first_ = 1;
  int last_ = 1;
  Canvas canvas_{};
};

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
  page.raw("<ul class=\"key\">\n");
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
    FieldMap map(plan, site, blinded);
    const std::string body = map.rows(first, last);
    page.raw(fmt::format("<svg class=\"field\" role=\"img\" viewBox=\"0 0 {} {}\">\n",
                         coordinate(map_width), coordinate(map.height(last - first + 1))));
    page.element("title", fmt::format("Plots of {}, rows {} to {}", place.name, first, last));
    page.element("desc", fmt::format("{} plots side by side. The same plots stand in a list under "
                                     "Plots of {}.",
                                     *place.field.columns, place.name));
    page.raw(body).raw("</svg>\n");
  }
  if (!blinded) write_key(page, plan);
  page.close_sheet();
}

}  // namespace leastwise::report
