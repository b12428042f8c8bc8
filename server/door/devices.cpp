#include "server/door/devices.h"

#include <algorithm>

#include "common/exchange/pairing.h"
#include "common/journal/folder.h"
#include "server/door/secret.h"

namespace swardwalk::server {
namespace {

using journal::Query;
using journal::Statements;

/// Nobody pairs more tablets in ten minutes; a program that asks for codes without end
/// would make guessing easier.
constexpr std::int64_t mostCodes = 32;
constexpr std::size_t shortestPrefix = 8;

std::optional<std::int64_t> timeOf(const Query& row, int column) {
  if (row.isNothing(column)) return std::nullopt;
  return row.integer(column);
}

Device deviceOf(const Query& row) {
  return {row.array<32>(0),    row.bytes(1),   !row.isNothing(2), row.integer(5) != 0,
          row.integer(6) != 0, timeOf(row, 3), timeOf(row, 4)};
}

std::string lower(std::string_view text) {
  std::string small(text);
  for (char& c : small) {
    if (c >= 'A' && c <= 'Z') c = static_cast<char>(c - 'A' + 'a');
  }
  return small;
}

}  // namespace

Result<NewCode> Devices::makeCode(std::int64_t now_ms) {
  std::array<std::uint8_t, 5> random{};
  journal::systemRandom(random.data(), random.size());
  NewCode fresh{exchange::codeFrom(random), now_ms + exchange::codeLasts_ms};
  const journal::Digest digest = digestOf(fresh.code);
  const auto made = door_->write("making a code", [&](Statements& sql) {
    // A clock that was set back leaves no code open for longer.
    sql("DELETE FROM codes WHERE ends_ms <= ?1 OR ends_ms > ?1 + ?2")
        .bind(now_ms)
        .bind(exchange::codeLasts_ms)
        .run();
    return sql("INSERT OR IGNORE INTO codes (digest, ends_ms)"
               " SELECT ?, ? WHERE (SELECT count(*) FROM codes) < ? RETURNING ends_ms")
        .bindBlob(digest)
        .bind(fresh.ends_ms)
        .bind(mostCodes)
        .next();
  });
  if (!made) return tl::unexpected(made.error());
  if (!*made) {
    return fail(FailureKind::refused, "", "too many codes are open",
                "use one of them, or wait ten minutes");
  }
  return fresh;
}

Result<std::string> Devices::pair(const std::string& code, const journal::OriginKey& origin,
                                  const std::string& name, std::int64_t now_ms) {
  const std::string token = newSecret();
  const journal::Digest codeDigest = digestOf(code);
  const journal::Digest tokenDigest = digestOf(token);
  const auto paired = door_->write("pairing a device", [&](Statements& sql) {
    if (!sql("DELETE FROM codes WHERE digest = ? AND ends_ms > ? RETURNING ends_ms")
             .bindBlob(codeDigest)
             .bind(now_ms)
             .next()) {
      return false;
    }
    sql("INSERT INTO devices (origin, name, token, paired_ms) VALUES (?, ?, ?, ?)"
        " ON CONFLICT (origin) DO UPDATE SET name = excluded.name, token = excluded.token,"
        " paired_ms = excluded.paired_ms")
        .bindBlob(origin)
        .bindText(name)
        .bindBlob(tokenDigest)
        .bind(now_ms)
        .run();
    return true;
  });
  if (!paired) return tl::unexpected(paired.error());
  if (!*paired) {
    return fail(FailureKind::refused, "", "this code is wrong, used, or older than ten minutes",
                "ask for a new one at the shed");
  }
  return token;
}

Result<std::optional<Device>> Devices::withToken(std::string_view token) {
  const journal::Digest digest = digestOf(token);
  return door_->read("looking up a token", [&](Statements& sql) {
    Query row =
        sql("SELECT origin, name, token, paired_ms, seen_ms, shut_out, vouched FROM devices"
            " WHERE token = ?");
    row.bindBlob(digest);
    return row.next() ? std::optional(deviceOf(row)) : std::nullopt;
  });
}

Result<std::optional<Device>> Devices::withOrigin(const journal::OriginKey& origin) {
  return door_->read("looking up a device", [&](Statements& sql) {
    Query row =
        sql("SELECT origin, name, token, paired_ms, seen_ms, shut_out, vouched FROM devices"
            " WHERE origin = ?");
    row.bindBlob(origin);
    return row.next() ? std::optional(deviceOf(row)) : std::nullopt;
  });
}

Result<std::set<journal::OriginKey>> Devices::shutOutOrigins() {
  return door_->read("looking who was shut out", [&](Statements& sql) {
    std::set<journal::OriginKey> origins;
    Query row = sql("SELECT origin FROM devices WHERE shut_out = 1");
    while (row.next()) origins.insert(row.array<32>(0));
    return origins;
  });
}

Result<std::vector<Device>> Devices::all() {
  return door_->read("listing devices", [&](Statements& sql) {
    std::vector<Device> devices;
    Query row =
        sql("SELECT origin, name, token, paired_ms, seen_ms, shut_out, vouched FROM devices"
            " ORDER BY name, origin");
    while (row.next()) devices.push_back(deviceOf(row));
    return devices;
  });
}

Result<void> Devices::setSeen(const journal::OriginKey& origin, std::int64_t now_ms) {
  return door_->write("noting a device", [&](Statements& sql) {
    sql("UPDATE devices SET seen_ms = ? WHERE origin = ?").bind(now_ms).bindBlob(origin).run();
  });
}

Result<void> Devices::setVouched(const journal::OriginKey& origin) {
  return door_->write("noting a device", [&](Statements& sql) {
    sql("UPDATE devices SET vouched = 1 WHERE origin = ?").bindBlob(origin).run();
  });
}

Result<void> Devices::shutOut(const journal::OriginKey& origin) {
  return door_->write("shutting a device out", [&](Statements& sql) {
    sql("INSERT INTO devices (origin, name, shut_out) VALUES (?, '', 1)"
        " ON CONFLICT (origin) DO UPDATE SET token = NULL, shut_out = 1")
        .bindBlob(origin)
        .run();
  });
}

Result<void> Devices::accept(const journal::OriginKey& origin) {
  return door_->write("accepting a device", [&](Statements& sql) {
    sql("UPDATE devices SET shut_out = 0 WHERE origin = ?").bindBlob(origin).run();
  });
}

Result<Device> deviceNamed(const std::vector<Device>& devices, std::string_view words) {
  const std::string digits = lower(words);
  std::optional<Device> found;
  for (const Device& device : devices) {
    const bool byKey =
        digits.size() >= shortestPrefix && journal::hex(device.origin).starts_with(digits);
    if (!byKey && (device.name.empty() || device.name != words)) continue;
    if (found) {
      return fail(FailureKind::invalid, std::string(words), "several devices are called this",
                  "give 8 or more digits of its origin");
    }
    found = device;
  }
  if (found) return *found;
  return fail(FailureKind::notFound, std::string(words), "there is no such device",
              "give its name, or 8 or more digits of its origin; the devices command lists them");
}

}  // namespace swardwalk::server
