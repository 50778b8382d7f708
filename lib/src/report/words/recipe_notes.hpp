#pragma once
#include <leastwise/formulation.hpp>
#include <leastwise/outcome.hpp>
#include <leastwise/risk.hpp>

#include <cstddef>
#include <functional>
#include <span>
#include <string>
#include <vector>

#include "report/kit/page.hpp"

namespace leastwise::report {

// The notes of an answer that shows several recipes.

/// What one recipe of an answer has to say for itself.
struct RecipeShown {
  std::span<const Note> notes{};  ///< those of the scenario may be among them
  std::span<const Portion> portions{};
  std::span<const Supply> supply{};
};

[[nodiscard]] RecipeShown shown(const Blend& blend);

/// The recipes of the draws by their numbers, and today's after them where no draw chose it. Only
/// today's says how sure the limits of a label are.
[[nodiscard]] std::vector<RecipeShown> shown(const PriceRisk& risk);

/// A note and the recipes it is about.
struct RecipeNote {
  Note note{};
  /// Positions from 0 on, ascending. None: it is about the scenario, and so about all.
  std::vector<std::size_t> recipes{};
};

/// The notes of the scenario, then those of the recipes in the order in which they are met; what
/// several recipes say is one note about them all.
[[nodiscard]] std::vector<RecipeNote> recipe_notes(std::span<const Note> scenario,
                                                   std::span<const RecipeShown> recipes);

/// What an answer calls its recipes.
struct RecipeNames {
  std::string one = "recipe";
  std::string many = "recipes";
  std::string unit{};  ///< of the names
  /// The name of a recipe by its position; empty: its number, from 1 on.
  std::function<std::string(std::size_t)> name{};
};

/// `recipe 2`, `recipes 1, 3 and 5 to 8`.
[[nodiscard]] std::string recipes_in_words(const std::vector<std::size_t>& recipes,
                                           const RecipeNames& names = {});

/// The notes as sentences that name their recipes, unless they are about all `count` of them.
[[nodiscard]] std::vector<Note> named_notes(std::span<const RecipeNote> notes, std::size_t count,
                                            const RecipeNames& names = {});

/// Writes such notes, and the rules of safety that any of the recipes calls for.
void write_notes_and_safety(Page& page, std::span<const Note> notes,
                            std::span<const RecipeShown> recipes);

/// Cautions and warnings in one cell, without remarks.
[[nodiscard]] std::string csv_cautions(std::span<const Note> notes);

/// The document of a picture: what is to be minded stands under it, and above it that it is not
/// complete, where it was stopped.
[[nodiscard]] std::string svg_with_notes(const Picture& picture, const Outcome& outcome,
                                         std::span<const Note> notes);

}  // namespace leastwise::report
