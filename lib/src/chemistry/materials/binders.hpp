#pragma once
#include <leastwise/compatibility.hpp>

#include <span>
#include <string>
#include <string_view>

namespace leastwise {

/// A liquid that makes powder stick to granules.
struct BinderKind {
  std::string name{};
  BinderNature nature = BinderNature::unknown;
  double density_kg_per_l = 0;  ///< at room temperature, or melted for waxes
  std::string note{};
  std::string source{};
};

/// All built-in binders, sorted by name.
[[nodiscard]] std::span<const BinderKind> built_in_binders();

/// The built-in binder of that name, or null.
[[nodiscard]] const BinderKind* find_binder(std::string_view name);

}  // namespace leastwise
