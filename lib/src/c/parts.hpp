#pragma once
#include <leastwise/leastwise.h>

#include <cstddef>
#include <vector>

#include "c/handles.hpp"

// Lists of an answer, handed out line by line. Nothing here throws.

namespace leastwise::c {

/// The blend of an answer; null for another answer, and for null.
inline const Blend* blend_of(const leastwise_answer* answer) {
  return answer == nullptr ? nullptr : answer->value.blend();
}

/// How many lines; none where the answer has no such list.
template <class Line>
std::size_t count_of(const std::vector<Line>* list) {
  return list == nullptr ? 0 : list->size();
}

/// Fills `*out` with what `view` makes of one line.
template <class Line, class Out, class View>
leastwise_result line_of(const std::vector<Line>* list, std::size_t index, Out* out,
                         const View& view) {
  if (index >= count_of(list) || out == nullptr) return LEASTWISE_BAD_ARGUMENT;
  *out = view((*list)[index]);
  return LEASTWISE_OK;
}

}  // namespace leastwise::c
