#include "common/exchange/photos.h"

#include <fmt/format.h>

#include <algorithm>
#include <boost/json.hpp>
#include <charconv>

namespace swardwalk::exchange {

namespace {

namespace json = boost::json;

constexpr std::string_view path = "/photos/";

std::string shortName(const journal::Digest& photo) { return journal::hex(photo).substr(0, 8); }

/// Cuts "from=123" off the front; nothing where it is not there or no such number.
std::optional<std::uint64_t> takeNumber(std::string_view& text, std::string_view name) {
  if (!text.starts_with(name)) return std::nullopt;
  text.remove_prefix(name.size());
  std::uint64_t number = 0;
  const auto [end, error] = std::from_chars(text.data(), text.data() + text.size(), number);
  if (error != std::errc()) return std::nullopt;
  text.remove_prefix(static_cast<std::size_t>(end - text.data()));
  return number;
}

}  // namespace

std::string writePhotoTarget(const PhotoTarget& target) {
  return fmt::format("{}{}?from={}&of={}", path, journal::hex(target.photo), target.from,
                     target.of);
}

Result<PhotoTarget> parsePhotoTarget(std::string_view target) {
  constexpr std::size_t digits = 64;
  std::string_view rest = target;
  if (rest.starts_with(path)) {
    rest.remove_prefix(path.size());
    const auto photo = journal::parseHex<32>(rest.substr(0, digits));
    rest.remove_prefix(std::min(digits, rest.size()));
    const auto from = takeNumber(rest, "?from=");
    const auto of = takeNumber(rest, "&of=");
    if (photo && from && of && rest.empty()) return PhotoTarget{*photo, *from, *of};
  }
  return fail(FailureKind::invalid, "", "a picture's address is /photos/<64 digits>?from=…&of=…",
              "");
}

std::string writePhotoAnswer(std::uint64_t have) { return fmt::format(R"({{"have":{}}})", have); }

Result<std::uint64_t> parsePhotoAnswer(std::string_view answer) {
  json::error_code error;
  const json::value value = json::parse(json::string_view(answer.data(), answer.size()), error);
  const json::object* object = error ? nullptr : value.if_object();
  const json::value* have = object ? object->if_contains("have") : nullptr;
  if (have && have->is_int64() && have->get_int64() >= 0) {
    return static_cast<std::uint64_t>(have->get_int64());
  }
  return fail(FailureKind::corrupt, "", "this is not a shed's answer to a picture",
              "look at the address");
}

PhotoSender::PhotoSender(const journal::PhotoFolder& photos, std::vector<MissingPhoto> missing)
    : photos_(&photos), missing_(std::move(missing)) {
  std::reverse(missing_.begin(), missing_.end());
}

void PhotoSender::leave(std::string trouble) {
  if (!trouble.empty()) troubles_.push_back(std::move(trouble));
  missing_.pop_back();
}

std::optional<PhotoSender::Part> PhotoSender::next() {
  while (!missing_.empty()) {
    const MissingPhoto& wanted = missing_.back();
    if (!photos_->holds(wanted.photo)) {
      leave({});  // somebody else's
      continue;
    }
    if (loaded_ != wanted.photo || bytes_.empty()) {
      auto bytes = photos_->read(wanted.photo);
      if (!bytes) {
        leave(fmt::format("Photo {} cannot be sent: {}", shortName(wanted.photo),
                          bytes.error().text()));
        continue;
      }
      bytes_ = std::move(*bytes);
      loaded_ = wanted.photo;
    }
    if (wanted.have >= bytes_.size()) {
      leave(fmt::format("Photo {} is not whole at the other side, which says it has all of it",
                        shortName(wanted.photo)));
      continue;
    }
    return Part{{wanted.photo, wanted.have, bytes_.size()},
                bytes_.substr(wanted.have, limits::photoPartBytes)};
  }
  return std::nullopt;
}

void PhotoSender::taken(std::uint64_t have) {
  if (missing_.empty()) return;
  MissingPhoto& wanted = missing_.back();
  if (have == bytes_.size()) {
    ++sent_;
    leave({});
  } else if (have > wanted.have && have < bytes_.size()) {
    wanted.have = have;
  } else {
    // Going back and forth would never end; the next exchange begins where the peer is then.
    leave(fmt::format("Photo {} did not get on; it is sent again at the next exchange",
                      shortName(wanted.photo)));
  }
}

void PhotoSender::refused(std::string_view reason) {
  if (missing_.empty()) return;
  leave(fmt::format("The other side did not take photo {}: {}", shortName(missing_.back().photo),
                    reason));
}

}  // namespace swardwalk::exchange
