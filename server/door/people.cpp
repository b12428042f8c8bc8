#include "server/door/people.h"

#include <algorithm>

namespace swardwalk::server {
namespace {

using journal::Query;
using journal::Statements;

constexpr std::size_t nameBytes = 120;

Person personOf(const Query& row) {
  return {row.bytes(0), parseRole(row.bytes(1)).value_or(Role::crew)};
}

tl::unexpected<Failure> notThere(const std::string& name) {
  return fail(FailureKind::notFound, name, "nobody of this name may sign in",
              "the people list command names them");
}

}  // namespace

std::string_view roleName(Role role) { return role == Role::manager ? "manager" : "crew"; }

std::optional<Role> parseRole(std::string_view name) {
  if (name == "manager") return Role::manager;
  if (name == "crew") return Role::crew;
  return std::nullopt;
}

bool isName(std::string_view name) {
  return !name.empty() && name.size() <= nameBytes && name.front() != ' ' && name.back() != ' ' &&
         std::none_of(name.begin(), name.end(),
                      [](char c) { return static_cast<unsigned char>(c) < 0x20 || c == 0x7F; });
}

Result<void> People::add(const Person& person, const std::string& digest) {
  if (!isName(person.name)) {
    return fail(FailureKind::refused, person.name, "this is no name",
                "give one of 1 to 120 bytes without control characters");
  }
  const std::string role(roleName(person.role));
  const auto added = door_->write("entering a person", [&](Statements& sql) {
    return sql("INSERT INTO people (name, role, password) VALUES (?, ?, ?)"
               " ON CONFLICT (name) DO NOTHING RETURNING name")
        .bindText(person.name)
        .bindText(role)
        .bindText(digest)
        .next();
  });
  if (!added) return tl::unexpected(added.error());
  if (*added) return {};
  return fail(FailureKind::refused, person.name, "somebody of this name is entered already",
              "change the password with people password, or remove them first");
}

Result<void> People::setPassword(const std::string& name, const std::string& digest) {
  const auto changed = door_->write("changing a password", [&](Statements& sql) {
    sql("DELETE FROM sessions WHERE name = ?").bindText(name).run();
    sql("DELETE FROM browsers WHERE name = ?").bindText(name).run();
    return sql("UPDATE people SET password = ? WHERE name = ? RETURNING name")
        .bindText(digest)
        .bindText(name)
        .next();
  });
  if (!changed) return tl::unexpected(changed.error());
  if (!*changed) return notThere(name);
  return {};
}

Result<void> People::remove(const std::string& name) {
  enum class Outcome { removed, notThere, lastManager };
  const auto outcome = door_->write("removing a person", [&](Statements& sql) {
    const auto count = [&](const char* text) {
      Query row = sql(text);
      return row.next() ? row.integer(0) : 0;
    };
    {
      Query row = sql("SELECT role FROM people WHERE name = ?");
      row.bindText(name);
      if (!row.next()) return Outcome::notThere;
      if (row.bytes(0) == "manager" &&
          count("SELECT count(*) FROM people WHERE role = 'manager'") == 1 &&
          count("SELECT count(*) FROM people") > 1) {
        return Outcome::lastManager;
      }
    }
    sql("DELETE FROM people WHERE name = ?").bindText(name).run();
    return Outcome::removed;
  });
  if (!outcome) return tl::unexpected(outcome.error());
  if (*outcome == Outcome::notThere) return notThere(name);
  if (*outcome == Outcome::lastManager) {
    return fail(FailureKind::refused, name, "this is the last manager, and others would be left",
                "enter another manager first");
  }
  return {};
}

Result<std::optional<Entry>> People::named(const std::string& name) {
  return door_->read("looking up a person", [&](Statements& sql) {
    Query row = sql("SELECT name, role, password FROM people WHERE name = ?");
    row.bindText(name);
    return row.next() ? std::optional(Entry{personOf(row), row.bytes(2)}) : std::nullopt;
  });
}

Result<std::vector<Person>> People::all() {
  return door_->read("listing people", [&](Statements& sql) {
    std::vector<Person> people;
    Query row = sql("SELECT name, role FROM people ORDER BY name");
    while (row.next()) people.push_back(personOf(row));
    return people;
  });
}

Result<bool> People::any() {
  return door_->read("looking for people",
                     [&](Statements& sql) { return sql("SELECT 1 FROM people LIMIT 1").next(); });
}

}  // namespace swardwalk::server
