#pragma once

#include <string>
#include <tl/expected.hpp>

namespace swardwalk {

/// What sort of thing went wrong; callers branch on this, people read the texts.
enum class FailureKind {
  notFound,  ///< what was asked for is not there
  invalid,   ///< the input breaks a rule
  corrupt,   ///< stored or received bytes contradict themselves
  busy,      ///< somebody else holds it now; trying again may help
  full,      ///< no room left
  io,        ///< the file or the network failed
  newer,     ///< made by a newer version than this one
  refused    ///< understood, and not allowed
};

/// An expected failure, in words for people: where, what, what to do.
struct Failure {
  FailureKind kind = FailureKind::invalid;
  std::string where;  ///< file, feature, field; may be empty
  std::string what;   ///< what is wrong, one sentence without a full stop
  std::string todo;   ///< what to do about it, one sentence without a full stop

  /// "where: what; todo" on one line.
  std::string text() const {
    std::string line = where.empty() ? what : where + ": " + what;
    return todo.empty() ? line : line + "; " + todo;
  }
};

/// A value or the failure that kept it from being made.
template <class Value>
using Result = tl::expected<Value, Failure>;

/// Shorthand at return statements.
inline tl::unexpected<Failure> fail(FailureKind kind, std::string where, std::string what,
                                    std::string todo) {
  return tl::unexpected<Failure>(Failure{kind, std::move(where), std::move(what), std::move(todo)});
}

}  // namespace swardwalk
