#include "trial/strips.hpp"

#include <leastwise/trial_plan.hpp>

namespace leastwise {
namespace trial {

SiteSize size_of(const Site& site) {
  const FieldLayout& field = site.field;
  const auto side = [](int plots, double plot_m, double path_m) {
    return plots * plot_m + (plots - 1) * path_m;
  };
  return {side(*field.columns + 2 * field.guard_plots, *site.plot_width_m, field.between_columns_m),
          side(*field.rows, *site.plot_length_m, field.between_rows_m)};
}

double headland_m2(const Site& site) { return size_of(site).across_m * site.field.headland_m; }

double border_m2(const Site& site) {
  const SiteSize size = size_of(site);
  const double along = size.along_m + 2 * site.field.headland_m;
  const double border = site.field.border_m;
  return 2 * border * (size.across_m + along + 2 * border);
}

}  // namespace trial

std::string_view to_string(StripKind kind) {
  switch (kind) {
    case StripKind::none:
      return "plot";
    case StripKind::headland:
      return "headland";
    case StripKind::border:
      break;
  }
  return "border";
}

}  // namespace leastwise
