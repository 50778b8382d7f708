#pragma once
#include <leastwise/draft.hpp>
#include <leastwise/material.hpp>
#include <leastwise/note.hpp>

#include <string>
#include <vector>

#include "scenario/checks.hpp"
#include "scenario/diagnostic_sink.hpp"

namespace leastwise {

/// Adds to `material` what `draft` says of the lot: `contains_also_percent` adds contents or
/// replaces them, `analysis_percent` replaces only. Forms of a nutrient that is replaced, and are
/// not stated themselves, keep their share of it; a note in `notes` says so.
void apply_lot_analysis(const MaterialDraft& draft, const std::string& path, Material& material,
                        Checks& checks, DiagnosticSink& diagnostics, std::vector<Note>& notes);

}  // namespace leastwise
