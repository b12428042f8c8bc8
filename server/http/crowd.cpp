#include "server/http/crowd.h"

#include <algorithm>
#include <tuple>

namespace swardwalk::server {
namespace {

Admission among(const std::vector<Guest*>& guests, std::size_t most) {
  if (guests.size() < most) return {true, nullptr};
  Guest* stalest = nullptr;
  for (Guest* guest : guests) {
    if (guest->working) continue;
    if (!stalest ||
        std::tie(guest->known, guest->served) < std::tie(stalest->known, stalest->served)) {
      stalest = guest;
    }
  }
  return {stalest != nullptr, stalest};
}

}  // namespace

Admission admit(const std::vector<Guest*>& here, const std::string& address, std::size_t most,
                std::size_t mostOfAddress) {
  std::vector<Guest*> staying;
  std::vector<Guest*> ofAddress;
  for (Guest* guest : here) {
    if (guest->leaving) continue;
    staying.push_back(guest);
    if (guest->address == address) ofAddress.push_back(guest);
  }
  const Admission own = among(ofAddress, mostOfAddress);
  // Who leaves for one of its own address makes room among all, too.
  if (!own.admitted || own.leaves) return own;
  return among(staying, most);
}

}  // namespace swardwalk::server
