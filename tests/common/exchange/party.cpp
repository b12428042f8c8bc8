#include "tests/common/exchange/party.h"

#include <SQLiteCpp/SQLiteCpp.h>
#include <unistd.h>

#include "common/exchange/compression.h"
#include "common/journal/digest.h"

namespace swardwalk::exchange::testing {

namespace fs = std::filesystem;

Folder::Folder() {
  // In memory where the system offers it: these tests ask nothing of the disk.
  const fs::path memory = "/dev/shm";
  std::error_code none;
  const bool usable = fs::is_directory(memory, none) && access(memory.c_str(), W_OK) == 0;
  std::string name = ((usable ? memory : fs::temp_directory_path()) / "exchange-XXXXXX").string();
  if (!mkdtemp(name.data())) ADD_FAILURE() << "no temporary folder";
  path_ = name;
}

Folder::~Folder() {
  std::error_code ignored;
  fs::remove_all(path_, ignored);
}

void ListFold::makeTables(SQLite::Database& database) {
  database.exec("DROP TABLE IF EXISTS list");
  database.exec(
      "CREATE TABLE list(digest BLOB PRIMARY KEY, type TEXT, subject TEXT, body BLOB) STRICT");
}

std::vector<journal::OriginKey> ListFold::fold(SQLite::Database& database,
                                               std::span<const journal::FoldInput> records) {
  SQLite::Statement insert(database, "INSERT INTO list VALUES(?,?,?,?)");
  for (const journal::FoldInput& input : records) {
    const journal::Record& record = *input.record;
    insert.bind(1, record.digest.data(), static_cast<int>(record.digest.size()));
    insert.bind(2, record.content.type);
    insert.bind(3, record.content.subject);
    insert.bind(4, record.content.body.data(), static_cast<int>(record.content.body.size()));
    insert.exec();
    insert.reset();
  }
  return {};
}

void ListFold::erase(SQLite::Database& database, const journal::FoldInput& record) {
  SQLite::Statement update(database, "UPDATE list SET body = x'' WHERE digest = ?");
  update.bind(1, record.record->digest.data(), static_cast<int>(record.record->digest.size()));
  update.exec();
}

void ListFold::writeState(SQLite::Database& database,
                          const std::function<void(std::string_view)>& write) const {
  SQLite::Statement rows(database,
                         "SELECT hex(digest) || ' ' || type || ' ' || subject || ' ' || "
                         "hex(body) FROM list ORDER BY digest");
  while (rows.executeStep()) write(rows.getColumn(0).getString() + "\n");
}

Party::Party(const Folder& folder, std::string name, std::uint8_t key)
    : folder_(&folder), name_(std::move(name)), key_(key) {
  open();
}

void Party::open() {
  journal::Signer::Seed seed{};
  seed.fill(key_);
  journal::JournalOptions options;
  options.file = *folder_ / (name_ + ".sqlite");
  options.durability = journal::Durability::off;
  options.deviceName = name_;
  auto opened = journal::Journal::open(options, journal::Signer(seed), *fold_);
  if (!opened) {
    ADD_FAILURE() << opened.error().text();
    std::abort();
  }
  journal_ = std::make_unique<journal::Journal>(std::move(*opened));
}

void Party::found() {
  std::array<std::uint8_t, 16> nonce{};
  nonce.fill(0x5a);
  const auto founded = journal().found(nonce, now_ms, name_);
  ASSERT_TRUE(founded) << founded.error().text();
}

void Party::write(int count, const std::string& what, bool together) {
  std::vector<journal::Draft> drafts;
  for (int i = 0; i < count; ++i) {
    journal::Draft draft;
    draft.type = "note";
    draft.subject = name_ + " " + std::to_string(++written_);
    draft.body = "{\"text\":\"" + what + " " + std::to_string(written_) + "\"}";
    draft.wall_ms = now_ms + written_;
    drafts.push_back(std::move(draft));
  }
  const std::size_t step = together ? drafts.size() : 1;
  for (std::size_t i = 0; i < drafts.size(); i += step) {
    const auto wrote = journal().append(std::span(drafts).subspan(i, step));
    ASSERT_TRUE(wrote) << wrote.error().text();
  }
}

Party Party::copy(const std::string& name) {
  close();
  fs::copy_file(*folder_ / (name_ + ".sqlite"), *folder_ / (name + ".sqlite"),
                fs::copy_options::overwrite_existing);
  open();
  Party other(*folder_, name, key_);
  other.written_ = written_;
  return other;
}

void Party::renew(std::uint8_t key) {
  key_ = key;
  journal::Signer::Seed seed{};
  seed.fill(key);
  const auto changed = journal().changeOrigin(journal::Signer(seed), "a test", now_ms);
  ASSERT_TRUE(changed) << changed.error().text();
}

std::string Party::state() { return fold_->stateText(journal().database()); }

std::size_t httpBytes(std::size_t questionBytes, std::size_t answerBytes) {
  const std::string type = zstdType;
  const std::string request =
      "POST /exchange HTTP/1.1\r\nHost: 192.168.1.20:8080\r\nContent-Type: " + type +
      "\r\nContent-Length: " + std::to_string(questionBytes) + "\r\n\r\n";
  const std::string response = "HTTP/1.1 200 OK\r\nContent-Type: " + type +
                               "\r\nContent-Length: " + std::to_string(answerBytes) + "\r\n\r\n";
  return request.size() + questionBytes + response.size() + answerBytes;
}

Result<Meeting> meet(Party& asker, Party& answerer, journal::Vouching vouching) {
  Meeting meeting;
  Asker machine(asker.journal(), answerer.name());
  while (true) {
    auto question = machine.next(now_ms);
    if (!question) return tl::unexpected(question.error());
    if (!*question) break;
    if (++meeting.roundTrips > 50) {
      ADD_FAILURE() << "the exchange does not end";
      break;
    }
    meeting.lines.push_back(write(**question));
    auto read = readMessage(meeting.lines.back());
    if (!read) return tl::unexpected(read.error());
    AnswerOptions options;
    options.vouching = vouching;
    options.wall_ms = now_ms;
    auto given = answer(answerer.journal(), *read, options);
    if (!given) return tl::unexpected(given.error());
    meeting.answererForked = given->ownOriginForked;
    meeting.lines.push_back(write(given->message));
    meeting.wireBytes += httpBytes(compress(*(meeting.lines.end() - 2)).size(),
                                   compress(meeting.lines.back()).size());
    MessageReader reader;
    if (auto took = reader.take(meeting.lines.back()); !took) return tl::unexpected(took.error());
    if (auto took = machine.take(*reader.hello(), now_ms); !took) {
      return tl::unexpected(took.error());
    }
    if (auto took = machine.take(reader.takeRuns()); !took) return tl::unexpected(took.error());
    if (auto done = machine.finish(); !done) return tl::unexpected(done.error());
  }
  meeting.tally = machine.tally();
  return meeting;
}

Meeting exchanged(Party& asker, Party& answerer) {
  auto meeting = meet(asker, answerer);
  if (!meeting) {
    ADD_FAILURE() << meeting.error().text();
    return {};
  }
  return std::move(*meeting);
}

void expectSame(Party& one, Party& other) {
  EXPECT_EQ(one.journal().heads(), other.journal().heads());
  EXPECT_EQ(one.journal().vector(), other.journal().vector());
  EXPECT_EQ(one.records(), other.records());
  EXPECT_EQ(one.state(), other.state());
  EXPECT_FALSE(one.state().empty());
}

void expectWhole(Party& party) {
  const auto report = party.journal().check();
  ASSERT_TRUE(report) << report.error().text();
  EXPECT_TRUE(report->whole);
  EXPECT_TRUE(report->stateMatches);
}

}  // namespace swardwalk::exchange::testing
