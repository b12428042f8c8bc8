#include "server/door/sessions.h"

#include "server/door/secret.h"

namespace swardwalk::server {
namespace {

using journal::Query;
using journal::Statements;

constexpr std::int64_t mostOfOne = 20;
/// So often at most it is written down that a session is in use.
constexpr std::int64_t worthNoting_ms = 60'000;

}  // namespace

Result<std::string> Sessions::begin(const std::string& name, std::int64_t now_ms) {
  const std::string secret = newSecret();
  const journal::Digest digest = digestOf(secret);
  const auto begun = door_->write("beginning a session", [&](Statements& sql) {
    sql("DELETE FROM sessions WHERE begun_ms <= ?1 - ?2 OR seen_ms <= ?1 - ?3 OR begun_ms > ?1")
        .bind(now_ms)
        .bind(sessionLasts_ms)
        .bind(sessionIdle_ms)
        .run();
    sql("DELETE FROM sessions WHERE name = ?1 AND digest NOT IN"
        " (SELECT digest FROM sessions WHERE name = ?1 ORDER BY seen_ms DESC LIMIT ?2)")
        .bindText(name)
        .bind(mostOfOne - 1)
        .run();
    sql("INSERT INTO sessions (digest, name, begun_ms, seen_ms) VALUES (?1, ?2, ?3, ?3)")
        .bindBlob(digest)
        .bindText(name)
        .bind(now_ms)
        .run();
  });
  if (!begun) return tl::unexpected(begun.error());
  return secret;
}

Result<std::optional<Person>> Sessions::whose(std::string_view secret, std::int64_t now_ms) {
  const journal::Digest digest = digestOf(secret);
  bool note = false;
  auto person = door_->read("looking up a session", [&](Statements& sql) -> std::optional<Person> {
    Query row =
        sql("SELECT p.name, p.role, s.begun_ms, s.seen_ms FROM sessions AS s"
            " JOIN people AS p ON p.name = s.name WHERE s.digest = ?");
    row.bindBlob(digest);
    if (!row.next()) return std::nullopt;
    const std::int64_t begun_ms = row.integer(2);
    const std::int64_t seen_ms = row.integer(3);
    if (now_ms >= begun_ms + sessionLasts_ms || now_ms >= seen_ms + sessionIdle_ms ||
        now_ms < begun_ms) {
      return std::nullopt;
    }
    note = now_ms > seen_ms + worthNoting_ms;
    return Person{row.bytes(0), parseRole(row.bytes(1)).value_or(Role::crew)};
  });
  if (!person || !note) return person;
  const auto noted = door_->write("noting a session", [&](Statements& sql) {
    sql("UPDATE sessions SET seen_ms = ? WHERE digest = ?").bind(now_ms).bindBlob(digest).run();
  });
  if (!noted) return tl::unexpected(noted.error());
  return person;
}

Result<void> Sessions::end(std::string_view secret) {
  const journal::Digest digest = digestOf(secret);
  return door_->write("ending a session", [&](Statements& sql) {
    sql("DELETE FROM sessions WHERE digest = ?").bindBlob(digest).run();
  });
}

Result<void> Sessions::endAllOf(const std::string& name) {
  return door_->write("ending sessions", [&](Statements& sql) {
    sql("DELETE FROM sessions WHERE name = ?").bindText(name).run();
  });
}

Result<std::string> Sessions::rememberBrowser(const std::string& name, std::int64_t now_ms) {
  const std::string secret = newSecret();
  const journal::Digest digest = digestOf(secret);
  const auto remembered = door_->write("remembering a browser", [&](Statements& sql) {
    sql("DELETE FROM browsers WHERE name = ?1 AND digest NOT IN"
        " (SELECT digest FROM browsers WHERE name = ?1 ORDER BY seen_ms DESC LIMIT ?2)")
        .bindText(name)
        .bind(mostOfOne - 1)
        .run();
    sql("INSERT INTO browsers (digest, name, seen_ms) VALUES (?, ?, ?)")
        .bindBlob(digest)
        .bindText(name)
        .bind(now_ms)
        .run();
  });
  if (!remembered) return tl::unexpected(remembered.error());
  return secret;
}

Result<bool> Sessions::knowsBrowser(std::string_view secret, const std::string& name,
                                    std::int64_t now_ms) {
  if (secret.empty()) return false;
  const journal::Digest digest = digestOf(secret);
  return door_->read("looking up a browser", [&](Statements& sql) {
    Query row = sql("SELECT seen_ms FROM browsers WHERE digest = ? AND name = ?");
    row.bindBlob(digest).bindText(name);
    return row.next() && now_ms < row.integer(0) + browserKnown_ms;
  });
}

}  // namespace swardwalk::server
