#pragma once
#include <optional>
#include <string>

namespace leastwise {

/// What the product is spread with.
struct Spreader {
  double working_width_m = 0;         ///< spread evenly in one pass, metres
  std::optional<double> hopper_kg{};  ///< of product in one fill
};

/// How labels are printed. Sizes are those of one label, millimetres.
struct LabelLayout {
  double width_mm = 93;         ///< of the label of a pack
  double height_mm = 50;        ///< at least
  double stake_width_mm = 62;   ///< of the label of a stake
  double stake_height_mm = 34;  ///< at least
  bool blinded = false;         ///< nothing on packs and stakes tells the treatment
  bool codes = false;           ///< with a code to scan, where the library was built with one
};

/// One piece of work on the day of mixing.
struct DayTask {
  std::string treatment{};      ///< its code; empty for cleaning
  std::string batch{};          ///< its code; empty for cleaning
  std::string text{};           ///< what to do
  int minutes = 0;              ///< about
  std::size_t application = 0;  ///< into `TrialPlan::applications`: each has a day of its own
  int ends_after = 0;           ///< minutes from the start of the day to the end of the task
};

}  // namespace leastwise
