#include "report/recipe_notes_json.hpp"

namespace leastwise::report {

Json json_notes(std::span<const RecipeNote> notes, const char* key) {
  return json_array(notes, [&](const RecipeNote& item) {
    Json json = json_note(item.note);
    json[key] = item.recipes.empty()
                    ? Json(nullptr)
                    : json_array(item.recipes, [](std::size_t k) { return Json(k + 1); });
    return json;
  });
}

}  // namespace leastwise::report
