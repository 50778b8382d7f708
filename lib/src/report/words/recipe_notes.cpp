#include "report/words/recipe_notes.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "report/kit/layout.hpp"
#include "report/kit/sections.hpp"

namespace leastwise::report {

RecipeShown shown(const Blend& blend) { return {blend.notes, blend.portions, blend.supply}; }

std::vector<RecipeShown> shown(const PriceRisk& risk) {
  std::vector<RecipeShown> recipes;
  bool today_met = false;
  for (const RiskRecipe& recipe : risk.recipes) {
    today_met = today_met || recipe.today;
    recipes.push_back({recipe.today ? risk.today->notes : recipe.cautions, recipe.portions, {}});
  }
  if (!today_met) recipes.push_back(shown(*risk.today));
  recipes.front().supply = risk.mean_supply;
  return recipes;
}

std::vector<RecipeNote> recipe_notes(std::span<const Note> scenario,
                                     std::span<const RecipeShown> recipes) {
  std::vector<RecipeNote> list;
  for (const Note& note : scenario) list.push_back({note, {}});
  std::map<std::string_view, std::size_t> met;
  for (std::size_t k = 0; k < recipes.size(); ++k)
    for (const Note& note : recipes[k].notes) {
      if (std::ranges::find(scenario, note) != scenario.end()) continue;
      const auto [at, is_new] = met.try_emplace(note.text, list.size());
      if (is_new) list.push_back({note, {}});
      auto& about = list[at->second].recipes;
      if (about.empty() || about.back() != k) about.push_back(k);
    }
  return list;
}

std::string recipes_in_words(const std::vector<std::size_t>& recipes, const RecipeNames& names) {
  const auto name = [&](std::size_t k) {
    return names.name ? names.name(k) : std::to_string(k + 1);
  };
  std::vector<std::string> parts;
  for (std::size_t k = 0; k < recipes.size();) {
    std::size_t end = k;
    while (end + 1 < recipes.size() && recipes[end + 1] == recipes[end] + 1) ++end;
    if (end >= k + 2) {
      parts.push_back(fmt::format("{} to {}", name(recipes[k]), name(recipes[end])));
    } else {
      for (std::size_t i = k; i <= end; ++i) parts.push_back(name(recipes[i]));
    }
    k = end + 1;
  }
  std::string words = recipes.size() == 1 ? names.one : names.many;
  for (std::size_t k = 0; k < parts.size(); ++k)
    words += (k == 0 ? " " : k + 1 == parts.size() ? " and " : ", ") + parts[k];
  return names.unit.empty() ? words : words + " " + names.unit;
}

std::vector<Note> named_notes(std::span<const RecipeNote> notes, std::size_t count,
                              const RecipeNames& names) {
  std::vector<Note> list;
  for (const RecipeNote& item : notes) {
    const bool all = item.recipes.empty() || item.recipes.size() == count;
    list.push_back(
        {item.note.level, item.note.code, item.note.subjects,
         all ? item.note.text : recipes_in_words(item.recipes, names) + ": " + item.note.text});
  }
  return list;
}

void write_notes_and_safety(Page& page, std::span<const Note> notes,
                            std::span<const RecipeShown> recipes) {
  std::vector<Portion> portions;
  std::vector<Supply> supply;
  for (const RecipeShown& recipe : recipes) {
    portions.insert(portions.end(), recipe.portions.begin(), recipe.portions.end());
    supply.insert(supply.end(), recipe.supply.begin(), recipe.supply.end());
  }
  write_notes(page, notes);
  write_safety(page, portions, supply, notes);
}

std::string csv_cautions(std::span<const Note> notes) {
  std::string text;
  for (const Note& note : notes)
    if (note.level != NoteLevel::info)
      text += (text.empty() ? "" : " ") + with_full_stop(note.text);
  return text;
}

std::string svg_with_notes(const Picture& picture, const Outcome& outcome,
                           std::span<const Note> notes) {
  std::vector<Picture> pictures;
  std::vector<std::string> sentences{with_full_stop(capitalised(outcome.detail))};
  const bool says_so_itself = picture.description == sentences.front();
  if (outcome.status == Status::stopped && !says_so_itself)
    pictures.push_back(words_picture("Stopped before the end", sentences));
  pictures.push_back(picture);
  sentences.clear();
  for (const Note& note : notes)
    if (note.level != NoteLevel::info)
      sentences.push_back(fmt::format("{}: {}", to_string(note.level), with_full_stop(note.text)));
  if (!sentences.empty()) pictures.push_back(words_picture("Cautions", sentences));
  return svg_document(pictures);
}

}  // namespace leastwise::report
