#pragma once
#include <span>

#include "report/kit/json_values.hpp"
#include "report/words/recipe_notes.hpp"

namespace leastwise::report {

/// `level`, `text`, and under `key` the numbers of the recipes, from 1 on; null: about the
/// scenario.
[[nodiscard]] Json json_notes(std::span<const RecipeNote> notes, const char* key = "recipes");

}  // namespace leastwise::report
