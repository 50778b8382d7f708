#pragma once
#include <leastwise/export.h>
#include <leastwise/material.hpp>

#include <span>
#include <string_view>

namespace leastwise {

/// The built-in materials: typical contents of common goods, without prices (`price_per_t` is 0).
///
/// `source` of each says where its figures come from, or `from memory`. They are typical values;
/// the analysis of the lot at hand always wins. Order: as listed in lib/data/materials.csv.
[[nodiscard]] LEASTWISE_API std::span<const Material> built_in_materials();

/// The built-in material of that name, or null.
[[nodiscard]] LEASTWISE_API const Material* find_built_in_material(std::string_view name);

}  // namespace leastwise
