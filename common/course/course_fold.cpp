#include "common/course/course_fold.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <cstring>

#include "common/course/checks.h"
#include "common/course/json.h"
#include "common/measure/instant.h"

namespace swardwalk::course {

namespace json = boost::json;

namespace {

constexpr const char* tables = R"sql(
DROP TABLE IF EXISTS living;
DROP TABLE IF EXISTS ending;
DROP TABLE IF EXISTS unusable;
DROP TABLE IF EXISTS newer;
DROP TABLE IF EXISTS erasing;
DROP TABLE IF EXISTS erased;
DROP TABLE IF EXISTS photos;

CREATE TABLE living (
  record INTEGER PRIMARY KEY,
  type TEXT NOT NULL,
  subject TEXT NOT NULL,
  name_key TEXT,
  at_ms INTEGER,
  feature BLOB NOT NULL
) STRICT;

-- Things with a name are few; events are not in it.
CREATE INDEX living_named ON living (type, name_key) WHERE name_key NOT NULL;

CREATE TABLE ending (
  record INTEGER PRIMARY KEY,
  ends BLOB NOT NULL
) STRICT;

CREATE TABLE unusable (
  record INTEGER PRIMARY KEY,
  reason TEXT NOT NULL
) STRICT;

CREATE TABLE newer (
  record INTEGER PRIMARY KEY,
  type TEXT NOT NULL,
  version INTEGER NOT NULL
) STRICT;

CREATE TABLE erasing (
  record INTEGER PRIMARY KEY,
  erases BLOB NOT NULL
) STRICT;

CREATE TABLE erased (
  record INTEGER PRIMARY KEY,
  type TEXT NOT NULL,
  subject TEXT NOT NULL
) STRICT;

CREATE TABLE photos (
  record INTEGER PRIMARY KEY,
  photo BLOB NOT NULL,
  small BLOB
) STRICT;
)sql";

/// Puts records into the tables, one after the other.
class Writer {
 public:
  Writer(SQLite::Database& database, std::span<const RecordType> types)
      : types_(types),
        living_(database, "INSERT INTO living VALUES (?, ?, ?, ?, ?, ?)"),
        ending_(database, "INSERT INTO ending VALUES (?, ?)"),
        unusable_(database, "INSERT INTO unusable VALUES (?, ?)"),
        newer_(database, "INSERT INTO newer VALUES (?, ?, ?)"),
        erasing_(database, "INSERT INTO erasing VALUES (?, ?)"),
        erased_(database, "INSERT INTO erased VALUES (?, ?, ?)"),
        photos_(database, "INSERT INTO photos VALUES (?, ?, ?)") {}

  void put(std::int64_t id, const journal::Record& record, bool erased) {
    const journal::Draft& content = record.content;
    const auto type = std::find_if(types_.begin(), types_.end(), [&](const RecordType& known) {
      return known.type == content.type;
    });
    if (type == types_.end() || content.version > type->version) {
      putNewer(id, content);
    } else if (type->type == "origin") {
      return;
    } else if (erased) {
      // Erasing who withdrew or accepted, and why, does not undo it.
      if (type->sort == RecordType::Sort::keeping)
        keep(id, *type, content.subject);
      else
        putErased(id, content);
    } else {
      putBody(id, *type, content);
    }
  }

  std::vector<journal::OriginKey> accepted;

 private:
  void putBody(std::int64_t id, const RecordType& type, const journal::Draft& content) {
    const auto value = reader_.read(content.body);
    if (!value) return putUnusable(id, value.error().text());
    const json::object* body = (*value)->if_object();
    if (body == nullptr) return putUnusable(id, "its body is not a JSON object");
    if (const Trouble wrong = type.check(*body)) return putUnusable(id, wrong->text());
    const std::string subject = type.subject(*body);
    if (type.sort != RecordType::Sort::keeping) return putLiving(id, type, subject, *body);
    if (subject != content.subject)
      return putUnusable(id, "its subject and its body name different things");
    keep(id, type, subject);
  }

  void putLiving(std::int64_t id, const RecordType& type, const std::string& subject,
                 const json::object& body) {
    living_.bind(1, id);
    living_.bindNoCopy(2, type.type.data());
    living_.bindNoCopy(3, subject);
    const std::string key = type.nameKey == nullptr ? std::string() : type.nameKey(body);
    if (type.nameKey != nullptr) {
      living_.bindNoCopy(4, key);
    } else {
      living_.bind(4);
    }
    const std::string_view moment =
        type.moment.empty() ? std::string_view() : textOf(*propertiesOf(body), type.moment);
    const auto at = moment.empty() ? std::nullopt : instantOf(moment);
    if (at) {
      living_.bind(5, static_cast<std::int64_t>(at->time_since_epoch().count()));
    } else {
      living_.bind(5);
    }
    const journal::Digest feature = featureDigest(type.type, body);
    living_.bindNoCopy(6, feature.data(), static_cast<int>(feature.size()));
    run(living_);
    if (type.type == "photo") putPhoto(id, *propertiesOf(body));
  }

  /// What it names is wanted for as long as its body is here, withdrawn or not.
  void putPhoto(std::int64_t id, const json::object& properties) {
    photos_.bind(1, id);
    const auto photo = journal::parseHex<32>(textOf(properties, "photo"));
    const auto small = journal::parseHex<32>(textOf(properties, "small"));
    photos_.bindNoCopy(2, photo->data(), static_cast<int>(photo->size()));
    if (small) {
      photos_.bindNoCopy(3, small->data(), static_cast<int>(small->size()));
    } else {
      photos_.bind(3);
    }
    run(photos_);
  }

  static std::optional<measure::Instant> instantOf(std::string_view text) {
    const auto instant = measure::parseInstant(text);
    return instant ? std::optional(*instant) : std::nullopt;
  }

  void keep(std::int64_t id, const RecordType& type, const std::string& subject) {
    const auto named = journal::parseHex<32>(subject);
    if (!named) return;
    if (type.type == "accept") {
      accepted.push_back(*named);
      return;
    }
    SQLite::Statement& naming = type.type == "erase" ? erasing_ : ending_;
    naming.bind(1, id);
    naming.bindNoCopy(2, named->data(), static_cast<int>(named->size()));
    run(naming);
  }

  void putUnusable(std::int64_t id, const std::string& reason) {
    unusable_.bind(1, id);
    unusable_.bindNoCopy(2, reason);
    run(unusable_);
  }

  void putNewer(std::int64_t id, const journal::Draft& content) {
    newer_.bind(1, id);
    newer_.bindNoCopy(2, content.type);
    newer_.bind(3, static_cast<std::int64_t>(content.version));
    run(newer_);
  }

  void putErased(std::int64_t id, const journal::Draft& content) {
    erased_.bind(1, id);
    erased_.bindNoCopy(2, content.type);
    erased_.bindNoCopy(3, content.subject);
    run(erased_);
  }

  static void run(SQLite::Statement& statement) {
    statement.exec();
    statement.reset();
  }

  std::span<const RecordType> types_;
  JsonReader reader_;
  SQLite::Statement living_;
  SQLite::Statement ending_;
  SQLite::Statement unusable_;
  SQLite::Statement newer_;
  SQLite::Statement erasing_;
  SQLite::Statement erased_;
  SQLite::Statement photos_;
};

std::string hexColumn(const SQLite::Column& column) {
  return journal::hex(static_cast<const std::uint8_t*>(column.getBlob()),
                      static_cast<std::size_t>(column.getBytes()));
}

std::string columnText(const SQLite::Column& column) {
  if (column.isNull()) return "null";
  return column.isBlob() ? hexColumn(column) : json::serialize(json::value(column.getString()));
}

}  // namespace

CourseFold::CourseFold(std::span<const RecordType> types, int version)
    : types_(types), version_(version) {}

void CourseFold::makeTables(SQLite::Database& database) { database.exec(tables); }

std::vector<journal::OriginKey> CourseFold::fold(SQLite::Database& database,
                                                 std::span<const journal::FoldInput> records) {
  Writer writer(database, types_);
  for (const journal::FoldInput& input : records)
    writer.put(input.id, *input.record, input.record->erased);
  return std::move(writer.accepted);
}

std::vector<journal::Digest> CourseFold::erasures(SQLite::Database& database) const {
  std::vector<journal::Digest> wanted;
  SQLite::Statement rows(database, "SELECT erases FROM erasing");
  while (rows.executeStep()) {
    const SQLite::Column column = rows.getColumn(0);
    journal::Digest digest{};
    if (column.getBytes() == static_cast<int>(digest.size()))
      std::memcpy(digest.data(), column.getBlob(), digest.size());
    wanted.push_back(digest);
  }
  return wanted;
}

void CourseFold::erase(SQLite::Database& database, const journal::FoldInput& record) {
  for (const char* table :
       {"living", "ending", "unusable", "newer", "erasing", "erased", "photos"}) {
    SQLite::Statement remove(database, fmt::format("DELETE FROM {} WHERE record = ?", table));
    remove.bind(1, record.id);
    remove.exec();
  }
  Writer writer(database, types_);
  writer.put(record.id, *record.record, true);
}

void CourseFold::writeState(SQLite::Database& database,
                            const std::function<void(std::string_view)>& write) const {
  const std::pair<const char*, const char*> parts[] = {
      {"living", "type, subject, name_key, at_ms, feature"},
      {"ending", "ends"},
      {"unusable", "reason"},
      {"newer", "type, version"},
      {"erasing", "erases"},
      {"erased", "type, subject"},
      {"photos", "photo, small"},
  };
  for (const auto& [table, columns] : parts) {
    // Type and version also stand in the record: name the table's own.
    std::string own;
    for (std::string_view rest = columns; !rest.empty();) {
      const std::size_t comma = rest.find(", ");
      own += fmt::format(", folded.{}", rest.substr(0, comma));
      rest = comma == std::string_view::npos ? std::string_view() : rest.substr(comma + 2);
    }
    SQLite::Statement rows(database,
                           fmt::format("SELECT records.digest{} FROM {} AS folded JOIN records "
                                       "ON records.id = folded.record ORDER BY records.digest",
                                       own, table));
    while (rows.executeStep()) {
      std::string line = table;
      for (int i = 0; i < rows.getColumnCount(); ++i) line += ' ' + columnText(rows.getColumn(i));
      line += '\n';
      write(line);
    }
  }
}

}  // namespace swardwalk::course
