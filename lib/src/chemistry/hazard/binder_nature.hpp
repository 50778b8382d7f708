#pragma once
#include <leastwise/compatibility.hpp>

#include <string>
#include <string_view>

namespace leastwise {

struct BinderKind;

/// The binder of the table with that name, whatever its case, blanks and hyphens; or null.
[[nodiscard]] const BinderKind* binder_called(std::string_view name);

/// What a binder is, from the table or from its name.
struct BinderEvidence {
  BinderNature nature = BinderNature::unknown;
  std::string reason{};   ///< goes behind "because"; empty for an unknown one
  bool alkaline = false;  ///< drives ammonia out of ammonium salts
  bool chloride = false;  ///< a brine
};

/// The table knows a binder whatever the case, blanks and hyphens of its name; a name with the word
/// of an oil, a wax or other organic matter is organic.
[[nodiscard]] BinderEvidence evidence_on_binder(std::string_view name);

}  // namespace leastwise
