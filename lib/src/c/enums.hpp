#pragma once
#include <leastwise/leastwise.h>
#include <leastwise/formulation.hpp>

// Values of the C interface never change; those of C++ may, so each is said.

namespace leastwise::c {

constexpr leastwise_status status_of(Status status) {
  switch (status) {
    case Status::optimal:
      return LEASTWISE_OPTIMAL;
    case Status::infeasible:
      return LEASTWISE_INFEASIBLE;
    case Status::stopped:
      break;
  }
  return LEASTWISE_STOPPED;
}

constexpr leastwise_cause cause_of(StopCause cause) {
  switch (cause) {
    case StopCause::time_limit:
      return LEASTWISE_TIME_LIMIT;
    case StopCause::cancelled:
      return LEASTWISE_CANCELLED;
    case StopCause::numerical:
      break;
  }
  return LEASTWISE_NUMERICAL;
}

static_assert(LEASTWISE_OK == 0 && LEASTWISE_INPUT_REJECTED == 1 && LEASTWISE_BAD_ARGUMENT == 2 &&
              LEASTWISE_OUT_OF_MEMORY == 3 && LEASTWISE_INTERNAL == 4 && LEASTWISE_UNREAD == 5);
static_assert(LEASTWISE_OPTIMAL == 0 && LEASTWISE_INFEASIBLE == 1 && LEASTWISE_STOPPED == 2);
static_assert(LEASTWISE_NOT_STOPPED == -1 && LEASTWISE_TIME_LIMIT == 0 &&
              LEASTWISE_CANCELLED == 1 && LEASTWISE_NUMERICAL == 2);
static_assert(sizeof(leastwise_status) == sizeof(int) && sizeof(leastwise_cause) == sizeof(int) &&
              sizeof(leastwise_result) == sizeof(int));

}  // namespace leastwise::c
