#include "c/guard.hpp"

#include <leastwise/load_stopped.hpp>

#include <cstdlib>
#include <cstring>
#include <limits>
#include <memory>
#include <new>
#include <utility>

#include "c/handles.hpp"

namespace leastwise::c {
namespace {

/// Needs no memory: the text fits into the string itself.
leastwise_error* out_of_memory() noexcept {
  static leastwise_error error{LEASTWISE_OUT_OF_MEMORY, "out of memory\n", {}};
  return &error;
}

leastwise_error* rejection(const InputError& cause) {
  auto error = std::make_unique<leastwise_error>();
  error->result = LEASTWISE_INPUT_REJECTED;
  error->text = cause.to_text();
  error->diagnostics = cause.diagnostics();
  return error.release();
}

leastwise_error* fault(leastwise_result result, std::string text) {
  return new leastwise_error{result, std::move(text) + "\n", {}};
}

/// The error for the exception that is being handled. Throws: std::bad_alloc.
leastwise_error* described() {
  try {
    throw;
  } catch (const InputError& cause) {
    return rejection(cause);
  } catch (const CallerFault& cause) {
    return fault(LEASTWISE_BAD_ARGUMENT, cause.what());
  } catch (const LoadStopped&) {
    return fault(LEASTWISE_UNREAD, "stopped before it was known whether the input is right");
  } catch (const std::bad_alloc&) {
    return out_of_memory();
  } catch (const std::exception& cause) {
    return fault(LEASTWISE_INTERNAL, std::string("unexpected failure: ") + cause.what());
  } catch (...) {
    return fault(LEASTWISE_INTERNAL, "unexpected failure");
  }
}

}  // namespace

leastwise_result caught(leastwise_error** error) noexcept {
  leastwise_error* found = nullptr;
  try {
    found = described();
  } catch (...) {
    found = out_of_memory();
  }
  const leastwise_result result = found->result;
  if (error != nullptr)
    *error = found;
  else
    leastwise_error_free(found);
  return result;
}

char* given_away(std::string_view text) {
  auto* copy = static_cast<char*>(std::malloc(text.size() + 1));
  if (copy == nullptr) throw std::bad_alloc();
  std::memcpy(copy, text.data(), text.size());
  copy[text.size()] = '\0';
  return copy;
}

double or_nan(const std::optional<double>& amount) {
  return amount.value_or(std::numeric_limits<double>::quiet_NaN());
}

}  // namespace leastwise::c

void leastwise_error_free(leastwise_error* error) {
  if (error != leastwise::c::out_of_memory()) delete error;
}
