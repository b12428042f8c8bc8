#pragma once

#include <span>
#include <string_view>

#include "common/journal/record.h"

/// The bytes that digests and signatures cover; `FORMAT.md` specifies them.
namespace swardwalk::journal {

/// BLAKE2b-256 (RFC 7693).
Digest blake2b(std::string_view bytes);

/// What record 1 of every origin of a course is chained to: no chain fits another course.
Digest genesisDigest(const CourseId& course);

/// Digest of a record over the digest before it, its header and its `bodyDigest`.
Digest recordDigest(const Digest& before, const Record& record);

/// One digest over everything that a journal holds: equal vectors, equal journals.
/// `heads` in any order.
Digest vectorDigest(std::vector<Head> heads);

/// A course's id from its founder's key and random nonce: nobody else can claim to
/// have founded it.
CourseId courseIdFor(const OriginKey& founder, const std::array<std::uint8_t, 16>& nonce);

/// Does `signature` show that the origin itself states this head?
bool headVerifies(const CourseId& course, const Head& head, const Signature& signature);

}  // namespace swardwalk::journal
