#pragma once
#include <leastwise/material.hpp>

#include <array>
#include <optional>
#include <string_view>

namespace leastwise {

/// Of the salt that a kg of the material leaves in the soil, with sodium nitrate at 100.
inline constexpr std::string_view salt_index_name = "salt-index";
/// kg of calcium carbonate that make up for the acid of 100 kg; below 0 where the material itself
/// makes up for acid: its neutralising value.
inline constexpr std::string_view lime_need_name = "lime-need";

inline constexpr std::array published_figure_names{salt_index_name, lime_need_name};

/// Whether tables hold figures of that name for goods, so that a scenario need not state them.
[[nodiscard]] bool is_published_figure(std::string_view name);

/// What the material states of that name, else what is published of goods of its grade; nothing
/// where neither is known. Matter that reacts with nothing and dissolves in nothing counts 0.
[[nodiscard]] std::optional<double> published_figure(const Material& material,
                                                     std::string_view name);

}  // namespace leastwise
