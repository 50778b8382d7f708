#pragma once
#include <leastwise/leastwise.h>

#include <optional>
#include <stdexcept>
#include <string>
#include <string_view>

// The line between the library, which throws, and its C interface, which does not.

namespace leastwise::c {

/// The caller gave what the interface forbids. `what()` says it in words.
class CallerFault : public std::runtime_error {
 public:
  using std::runtime_error::runtime_error;
};

/// Turns the exception that is being handled into a result and, where `error` is not null, an
/// error. Memory that runs out even for that is reported by an error that needs none.
leastwise_result caught(leastwise_error** error) noexcept;

/// Runs `work`. Nothing it throws comes out.
template <class Work>
leastwise_result guarded(leastwise_error** error, const Work& work) noexcept {
  if (error != nullptr) *error = nullptr;
  try {
    work();
    return LEASTWISE_OK;
  } catch (...) {
    return caught(error);
  }
}

/// `*given`. Throws: CallerFault for null.
template <class Value>
Value& required(Value* given, std::string_view name) {
  if (given == nullptr) throw CallerFault("expected a " + std::string(name) + ", found NULL");
  return *given;
}

/// A text of the caller. Throws: CallerFault for null.
inline std::string text_of(const char* given, std::string_view name) {
  return {&required(given, name)};
}

/// Sets `*out` to null before anything can fail. Throws: CallerFault for null.
template <class Handle>
Handle*& cleared(Handle** out) {
  Handle*& place = required(out, "place for the result");
  place = nullptr;
  return place;
}

/// A text that the caller will free. Throws: std::bad_alloc.
char* given_away(std::string_view text);

/// NaN for an amount that does not apply.
double or_nan(const std::optional<double>& amount);

}  // namespace leastwise::c
