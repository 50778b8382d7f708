#pragma once
#include <leastwise/material.hpp>

#include <string_view>
#include <vector>

namespace leastwise {

/// A material in one of its disguises. An empty formula: the contents count.
struct Disguise {
  std::string_view name{};
  std::string_view family{};
  std::string_view formula{};
  std::vector<Content> contents{};
  Form form = Form::granule;
};

/// Ammonium nitrate and what holds it.
[[nodiscard]] std::vector<Disguise> ammonium_nitrates();
/// Nitrates without ammonium.
[[nodiscard]] std::vector<Disguise> other_nitrates();
/// What burns, or takes up oxygen.
[[nodiscard]] std::vector<Disguise> fuels();
/// What nobody can tell.
[[nodiscard]] std::vector<Disguise> mysteries();
/// Urea and what holds it.
[[nodiscard]] std::vector<Disguise> ureas();
/// Copper compounds.
[[nodiscard]] std::vector<Disguise> coppers();
/// Free lime and other strong bases.
[[nodiscard]] std::vector<Disguise> limes();
/// Ammonium salts.
[[nodiscard]] std::vector<Disguise> ammoniums();
/// Strong acids.
[[nodiscard]] std::vector<Disguise> acids();
/// What no fertilizer is made of.
[[nodiscard]] std::vector<Disguise> refused();

}  // namespace leastwise
