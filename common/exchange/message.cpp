#include "common/exchange/message.h"

#include <fmt/format.h>

#include <utility>

#include "common/exchange/lines.h"

namespace swardwalk::exchange {

std::string writeRun(const journal::Run& run) {
  std::string lines = fmt::format(
      R"({{"run":"{}","after":{},"base":"{}","records":{},"head":"{}","signature":"{}"}})",
      journal::hex(run.origin), run.after, journal::hex(run.base), run.records.size(),
      journal::hex(run.head), journal::hex(run.signature));
  lines += '\n';
  for (const journal::Record& record : run.records) {
    lines += writeRecord(record);
    lines += '\n';
  }
  return lines;
}

std::string writeEnd(std::uint64_t records) {
  return fmt::format(R"({{"end":true,"records":{}}})", records) + "\n";
}

std::string write(const Message& message) {
  std::string lines = writeHello(message.hello);
  std::uint64_t records = 0;
  for (const journal::Run& run : message.runs) {
    lines += writeRun(run);
    records += run.records.size();
  }
  return lines + writeEnd(records);
}

tl::unexpected<Failure> MessageReader::broken(std::string_view what) const {
  return fail(FailureKind::invalid, fmt::format("line {} of the message", lines_),
              std::string(what), "start the exchange again; what came whole before is kept");
}

Result<void> MessageReader::take(std::string_view bytes) {
  if (failure_) return tl::unexpected(*failure_);
  const auto stop = [this](const tl::unexpected<Failure>& failure) {
    failure_ = failure.value();
    rest_.clear();
    open_.reset();
    return failure;
  };
  if (bounds_ == Bounds::message && bytes.size() > limits::messageBytes - bytes_) {
    return stop(broken(fmt::format("the message is over {} bytes", limits::messageBytes)));
  }
  bytes_ += bytes.size();

  while (!bytes.empty()) {
    const std::size_t limit = hello_ ? limits::lineBytes : limits::helloBytes;
    const std::size_t feed = bytes.find('\n');
    const std::size_t part = feed == std::string_view::npos ? bytes.size() : feed;
    if (part > limit || rest_.size() > limit - part) {
      ++lines_;
      return stop(broken(fmt::format("the line is over {} bytes", limit)));
    }
    if (feed == std::string_view::npos) {
      rest_ += bytes;
      return {};
    }
    std::string_view line = bytes.substr(0, feed);
    if (!rest_.empty()) {
      rest_ += line;
      line = rest_;
    }
    ++lines_;
    if (auto taken = takeLine(line); !taken) return stop(tl::unexpected(taken.error()));
    rest_.clear();
    bytes.remove_prefix(feed + 1);
  }
  return {};
}

Result<void> MessageReader::takeLine(std::string_view line) {
  if (ended_) return broken("nothing may follow the end line");
  if (!hello_) {
    auto hello = parseHello(line);
    if (hello) {
      hello_ = std::move(*hello);
      return {};
    }
    if (hello.error().kind == FailureKind::newer) return tl::unexpected(hello.error());
    return broken(hello.error().what);
  }
  if (!line.empty() && line.front() == '[') return takeRecord(line);
  if (!line.empty() && line.front() == '{') return takeObject(line);
  return broken("a line must begin with { or [");
}

Result<void> MessageReader::takeObject(std::string_view line) {
  if (open_) {
    return broken(fmt::format("{} more records of the run must stand here",
                              openRecords_ - open_->records.size()));
  }
  auto object = parseObject(line);
  if (!object) return broken(object.error().what);
  if (RunLine* run = std::get_if<RunLine>(&*object)) {
    records_ += run->records;
    if (bounds_ == Bounds::message && records_ > limits::messageRecords) {
      return broken(fmt::format("the message holds more than {} records", limits::messageRecords));
    }
    open_ = std::move(run->run);
    openRecords_ = run->records;
    openBodyBytes_ = 0;
  } else if (const EndLine* end = std::get_if<EndLine>(&*object)) {
    if (end->records != records_) {
      return broken(
          fmt::format("the end line counts {} records, but {} came", end->records, records_));
    }
    ended_ = true;
  }
  return {};
}

Result<void> MessageReader::takeRecord(std::string_view line) {
  if (!open_) return broken("a record must follow the line of its run");
  auto record = parseRecord(line);
  if (!record) return broken(record.error().what);
  openBodyBytes_ += record->content.body.size();
  if (openBodyBytes_ > journal::limits::runBodyBytes && openRecords_ > 1) {
    return broken(fmt::format("the run's bodies are over {} bytes", journal::limits::runBodyBytes));
  }
  record->origin = open_->origin;
  record->number = open_->after + open_->records.size() + 1;
  open_->records.push_back(std::move(*record));
  if (open_->records.size() == openRecords_) {
    runs_.push_back(std::move(*open_));
    open_.reset();
  }
  return {};
}

std::vector<journal::Run> MessageReader::takeRuns() { return std::exchange(runs_, {}); }

Result<Message> readMessage(std::string_view bytes) {
  MessageReader reader;
  if (auto taken = reader.take(bytes); !taken) return tl::unexpected(taken.error());
  if (!reader.ended()) {
    return fail(FailureKind::invalid, "message", "it ends before its end line",
                "start the exchange again");
  }
  return Message{*reader.hello(), reader.takeRuns()};
}

}  // namespace swardwalk::exchange
