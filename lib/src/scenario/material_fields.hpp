#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/material.hpp>

#include <string>
#include <string_view>
#include <vector>

#include "base/suggest.hpp"
#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// Checks every figure that a material states by itself.
void check_material_fields(const MaterialDraft& draft, const std::string& path, Checks& checks,
                           DiagnosticSink& diagnostics);

/// The built-in material that somebody meant by `name`: a word of the trade, or nearly its name.
[[nodiscard]] Suggestion meant_material(std::string_view name);

/// Checks that a material which is not taken from the built-in catalogue states what it must.
void check_material_is_complete(const MaterialDraft& draft, const std::string& path,
                                bool states_contents, DiagnosticSink& diagnostics);

/// What the draft states it contains, from the list or from the formula; checked.
[[nodiscard]] std::vector<Content> material_contents(const MaterialDraft& draft,
                                                     const std::string& path, Checks& checks,
                                                     DiagnosticSink& diagnostics);

/// The resolved material: what the draft states, else what `built_in` (may be null) states.
[[nodiscard]] Material merged(const MaterialDraft& draft, const Material* built_in,
                              std::vector<Content> contents);

/// Takes the material out of every blend. A share that is asked for stays asked for, and then
/// nothing obeys both.
void leave_out(Material& material);

/// A spread must be of something that the material contains.
void check_spread_is_of_contents(const Material& material, const std::string& path,
                                 DiagnosticSink& diagnostics);

/// Checks that what was said of the material suits its form.
void check_form_agrees(const Material& material, const std::string& path,
                       DiagnosticSink& diagnostics);

}  // namespace leastwise
