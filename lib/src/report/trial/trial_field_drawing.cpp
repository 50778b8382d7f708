#include "report/trial/trial_field_drawing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <utility>
#include <vector>

#include "report/drawing/canvas.hpp"
#include "report/kit/numbers.hpp"
#include "report/trial/trial_field_words.hpp"
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
constexpr double map_band = 24;   // of the border

/// The plots of a site by their place.
class FieldMap {
 public:
  FieldMap(const TrialPlan& plan, std::size_t site, bool blinded)
      : plan_(plan), field_(plan.sites[site].field), blinded_(blinded) {
    for (const auto& plot : plan.plots) {
      if (plot.site != site || plot.again) continue;
      if (plot.strip == StripKind::none) plots_[{plot.row, plot.column}] = &plot;
      if (plot.strip == StripKind::headland) headlands_.push_back(&plot);
      if (plot.strip == StripKind::border) border_ = &plot;
    }
    strip_ = field_.headland_m > 0 ? map_strip : 0;
    band_ = field_.border_m > 0 ? map_band : 0;
    columns_ = *field_.columns;
    last_of_all_ = *field_.rows;
    guards_ = field_.guard_plots;
    width_ = std::min(map_widest_plot, (map_width - map_margin - map_arrow_width - 2 * band_) /
                                           (columns_ + 2 * guards_));
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
    if (band_ > 0) draw_border();
    number_rows_and_columns();
    draw_north();
    return std::move(canvas_).body();
  }

  [[nodiscard]] double height(int rows) const {
    return map_head + rows * map_row_height + map_foot + 2 * (strip_ + band_);
  }

 private:
  [[nodiscard]] bool from_the_top() const {
    return field_.first_plot == Corner::top_left || field_.first_plot == Corner::top_right;
  }
  [[nodiscard]] bool from_the_right() const {
    return field_.first_plot == Corner::bottom_right || field_.first_plot == Corner::top_right;
  }

  /// Where the plot at `row` and `column` begins, from the left and from the top.
  [[nodiscard]] Point corner_of(int row, int column) const {
    const int across = guards_ + (from_the_right() ? columns_ - column : column - 1);
    const int down = from_the_top() ? row - first_ : last_ - row;
    return {map_margin + band_ + across * width_,
            map_head + band_ + strip_ + down * map_row_height};
  }

  void draw_plot(const Plot& plot) {
    const Point at = corner_of(plot.row, plot.column);
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
    const Point at_left = corner_of(plot.row, plot.column);
    const Point opposite{at_left.x + width_, at_left.y + map_row_height};
    const bool mirrored = from_the_right();
    const bool upright = !from_the_top();
    const auto edge = [&](const Plot* other, Point from, Point to) {
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
    const double left = map_margin + band_;
    const double wide = (columns_ + 2 * guards_) * width_;
    for (const bool first : {true, false}) {
      if (first ? first_ != 1 : last_ != last_of_all_) continue;
      const bool above = first == from_the_top();
      const double top =
          map_head + band_ + (above ? 0 : strip_ + (last_ - first_ + 1) * map_row_height);
      canvas_.rectangle(left, top, wide, strip_, "plot headland");
      canvas_.text(left + wide / 2, top + strip_ / 2 + 5, headland_text(first), "middle quiet");
    }
  }

  /// The strip round plots and headlands, open where the map goes on over the page.
  void draw_border() {
    const double left = map_margin;
    const double right = left + 2 * band_ + (columns_ + 2 * guards_) * width_;
    const double top = map_head;
    const double bottom = top + 2 * (band_ + strip_) + (last_ - first_ + 1) * map_row_height;
    const bool ends_above = from_the_top() ? first_ == 1 : last_ == last_of_all_;
    const bool ends_below = from_the_top() ? last_ == last_of_all_ : first_ == 1;
    canvas_.line({left, top}, {left, bottom}, "seam");
    canvas_.line({right, top}, {right, bottom}, "seam");
    if (ends_above) canvas_.line({left, top}, {right, top}, "seam");
    if (ends_below) canvas_.line({left, bottom}, {right, bottom}, "seam");
    canvas_.text((left + right) / 2, ends_above ? top + 17 : bottom - 8, border_text(), "middle");
  }

  [[nodiscard]] std::string border_text() const {
    std::string text = fmt::format("border {} m", plain_text(field_.border_m));
    if (border_ == nullptr) return text;
    text += ", " + plot_number_text(*border_);
    if (!blinded_) text += " " + plan_.treatments[border_->treatment].treatment_code;
    return text;
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
      const Point at = corner_of(row, 1);
      canvas_.text(map_margin - 8, at.y + map_row_height / 2 + 4, std::to_string(row), "end quiet");
    }
    const double base =
        map_head + 2 * (strip_ + band_) + (last_ - first_ + 1) * map_row_height + 17;
    for (int column = 1; column <= columns_; ++column) {
      canvas_.text(corner_of(first_, column).x + width_ / 2, base, std::to_string(column),
                   "middle quiet");
    }
    if (first_ > 1) return;
    const Point first = corner_of(1, 1);  // a wedge in the corner of the first plot
    const double x = from_the_right() ? first.x + width_ : first.x;
    const double y = from_the_top() ? first.y : first.y + map_row_height;
    const double right = from_the_right() ? -13 : 13;
    const double down = from_the_top() ? 13 : -13;
    canvas_.polygon({{x, y}, {x + right, y}, {x, y + down}}, "ink");
  }

  void draw_north() {
    const double angle = field_.north_degrees / 180 * std::numbers::pi;
    const Point middle{map_width - map_arrow_width / 2 + 4, map_head + 34};
    const auto turned = [&](double x, double y) {
      return Point{middle.x + x * std::cos(angle) - y * std::sin(angle),
                        middle.y + x * std::sin(angle) + y * std::cos(angle)};
    };
    canvas_.line(turned(0, 18), turned(0, -8), "edge");
    canvas_.polygon({turned(0, -20), turned(-7, -4), turned(7, -4)}, "ink");
    const Point letter = turned(0, -29);
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
  const Plot* border_ = nullptr;
  double band_ = 0;
  Canvas canvas_{};
};

}  // namespace

FieldDrawing field_drawing(const TrialPlan& plan, std::size_t site, bool blinded, int first,
                           int last) {
  FieldMap map(plan, site, blinded);
  return {map_width, map.height(last - first + 1), map.rows(first, last)};
}

}  // namespace leastwise::report
