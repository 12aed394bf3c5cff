#pragma once
#include <string>
#include <tl/expected.hpp>
#include <vector>

#include "core/base/message.h"

namespace yw::base {

/// What kind of failure; decides the command's exit code.
enum class ErrorCode {
  BadInput,     ///< a value or option cannot be used (exit 2)
  Unreadable,   ///< a file is missing, damaged or from a newer program (exit 3)
  CannotWrite,  ///< a file could not be written; the old one is untouched (exit 4)
};

/// A failure a person or a file can cause: facts, not text. `message` says what and why and what to do;
/// `where` is the place inside the input, e.g. `line 14, prop 12, field span`.
struct Error {
  ErrorCode code = ErrorCode::BadInput;
  Message message;
  std::string where;
  bool operator==(const Error&) const = default;
};

/// `where: text`, or the text alone if there is no place, or only a field that the text itself names.
std::string text(const Error& error, UnitSystem units = UnitSystem::FeetInches);

template <class T>
using Result = tl::expected<T, Error>;

inline tl::unexpected<Error> fail(ErrorCode code, Message message, std::string where = {}) {
  return tl::unexpected<Error>(Error{code, std::move(message), std::move(where)});
}

}  // namespace yw::base
