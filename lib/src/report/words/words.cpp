#include <leastwise/formulation.hpp>
#include <leastwise/version.hpp>

namespace leastwise {
namespace {

// The version is macros, for C. NOLINTBEGIN(cppcoreguidelines-macro-usage)
#define LEASTWISE_TEXT_OF(number) #number
#define LEASTWISE_DOTTED(major, minor, patch) \
  LEASTWISE_TEXT_OF(major) "." LEASTWISE_TEXT_OF(minor) "." LEASTWISE_TEXT_OF(patch)
// NOLINTEND(cppcoreguidelines-macro-usage)

constexpr std::string_view version_text =
    LEASTWISE_DOTTED(LEASTWISE_VERSION_MAJOR, LEASTWISE_VERSION_MINOR, LEASTWISE_VERSION_PATCH);

}  // namespace

std::string_view version() { return version_text; }

std::string_view to_string(StopCause cause) {
  switch (cause) {
    case StopCause::time_limit:
      return "time_limit";
    case StopCause::cancelled:
      return "cancelled";
    case StopCause::numerical:
      return "numerical";
  }
  return "numerical";
}

std::string_view to_string(KnownSides sides) {
  switch (sides) {
    case KnownSides::none:
      break;
    case KnownSides::below:
      return "below";
    case KnownSides::above:
      return "above";
    case KnownSides::both:
      return "both";
  }
  return "none";
}

KnownSides known_sides(const BindingRule& rule) {
  const bool below = rule.price_below.is_computed();
  const bool above = rule.price_above.is_computed();
  if (below && above) return KnownSides::both;
  if (below) return KnownSides::below;
  return above ? KnownSides::above : KnownSides::none;
}

std::string_view to_string(Status status) {
  switch (status) {
    case Status::optimal:
      return "optimal";
    case Status::infeasible:
      return "infeasible";
    case Status::stopped:
      return "stopped";
  }
  return "stopped";
}

}  // namespace leastwise
