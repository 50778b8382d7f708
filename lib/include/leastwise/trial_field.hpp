#pragma once
#include <leastwise/export.h>

#include <optional>
#include <string>
#include <string_view>

namespace leastwise {

/// A corner of a map that is held upright.
enum class Corner {
  bottom_left,   ///< at the reader's left hand
  bottom_right,  ///< at the right hand
  top_left,      ///< away from the reader, left
  top_right,     ///< away from the reader, right
};

/// The spelling used in trial files and reports: `bottom-left`.
[[nodiscard]] LEASTWISE_API std::string_view to_string(Corner corner);

/// How the plots of a site lie side by side: what its map shows and in which order they are walked.
///
/// Every replicate is a rectangle of `block_columns` plots side by side. As many of these
/// rectangles as `columns` has room for stand side by side, then the next ones behind them. In a
/// `Trial` all three counts are there.
struct FieldLayout {
  /// Plots side by side on the whole site. Default: those of one replicate, at most 20.
  std::optional<int> columns{};
  /// Plots behind one another that the field has room for. Default: as many as it takes.
  std::optional<int> rows{};
  std::optional<int> block_columns{};       ///< side by side in a replicate; default: `columns`
  bool serpentine = false;                  ///< every second row runs back
  Corner first_plot = Corner::bottom_left;  ///< where the first plot stands
  double north_degrees = 0;                 ///< north on the map, clockwise from its top
  double between_rows_m = 0;                ///< path between plots behind one another, metres
  double between_columns_m = 0;             ///< path between plots side by side, metres
  double border_m = 0;                      ///< strip all round the site, metres
  int guard_plots = 0;                      ///< at each end of every row, beyond the columns
  std::string guard_treatment{};  ///< the treatment that stands on them; needed where there are
  double headland_m = 0;          ///< turning area before the first and behind the last row, metres
  /// The treatment that is spread on both headlands, and on the border; empty: nothing is.
  std::string headland_treatment{};
  std::string border_treatment{};  ///< see `headland_treatment`
};

}  // namespace leastwise
