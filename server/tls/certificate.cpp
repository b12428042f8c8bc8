#include "server/tls/certificate.h"

#include <openssl/ec.h>
#include <openssl/pem.h>
#include <openssl/rand.h>
#include <openssl/x509v3.h>

#include <boost/asio/ip/address.hpp>
#include <cassert>
#include <ctime>
#include <filesystem>

#include "common/journal/durable_file.h"
#include "server/tls/openssl.h"

namespace swardwalk::server {
namespace {

constexpr long lasts_days = 3653;
/// A tablet's clock may be behind the shed's.
constexpr long beginsBefore_s = 86'400;

bool isAddress(const std::string& name) {
  boost::system::error_code error;
  boost::asio::ip::make_address(name, error);
  return !error;
}

bool addExtension(X509& certificate, int kind, const std::string& value) {
  X509V3_CTX context;
  X509V3_set_ctx_nodb(&context);
  X509V3_set_ctx(&context, &certificate, &certificate, nullptr, nullptr, 0);
  X509_EXTENSION* extension = X509V3_EXT_conf_nid(nullptr, &context, kind, value.c_str());
  if (!extension) return false;
  const bool added = X509_add_ext(&certificate, extension, -1) == 1;
  X509_EXTENSION_free(extension);
  return added;
}

bool setSerial(X509& certificate) {
  std::uint64_t serial = 0;
  if (RAND_bytes(reinterpret_cast<unsigned char*>(&serial), sizeof(serial)) != 1) return false;
  return ASN1_INTEGER_set_uint64(X509_get_serialNumber(&certificate), serial >> 1) == 1;
}

bool setNames(X509& certificate, const std::vector<std::string>& names) {
  X509_NAME* subject = X509_get_subject_name(&certificate);
  const auto* title = reinterpret_cast<const unsigned char*>("Swardwalk shed");
  if (X509_NAME_add_entry_by_txt(subject, "CN", MBSTRING_UTF8, title, -1, -1, 0) != 1 ||
      X509_set_issuer_name(&certificate, subject) != 1) {
    return false;
  }
  std::string alternatives = "DNS:localhost";
  for (const std::string& name : names) {
    alternatives += isAddress(name) ? ",IP:" : ",DNS:";
    alternatives += name;
  }
  return addExtension(certificate, NID_subject_alt_name, alternatives) &&
         addExtension(certificate, NID_basic_constraints, "critical,CA:FALSE") &&
         addExtension(certificate, NID_key_usage, "critical,digitalSignature") &&
         addExtension(certificate, NID_ext_key_usage, "serverAuth");
}

std::string pem(EVP_PKEY& key, X509& certificate) {
  const Openssl<BIO> memory(BIO_new(BIO_s_mem()));
  if (!memory ||
      PEM_write_bio_PrivateKey(memory.get(), &key, nullptr, nullptr, 0, nullptr, nullptr) != 1 ||
      PEM_write_bio_X509(memory.get(), &certificate) != 1) {
    return {};
  }
  char* bytes = nullptr;
  const long size = BIO_get_mem_data(memory.get(), &bytes);
  return {bytes, static_cast<std::size_t>(size)};
}

std::string make(const std::vector<std::string>& names, std::int64_t now_ms) {
  const Openssl<EVP_PKEY> key(EVP_EC_gen("P-256"));
  const Openssl<X509> certificate(X509_new());
  if (!key || !certificate) return {};
  std::time_t now_s = now_ms / 1000;
  const bool made =
      X509_set_version(certificate.get(), X509_VERSION_3) == 1 && setSerial(*certificate) &&
      X509_time_adj(X509_getm_notBefore(certificate.get()), -beginsBefore_s, &now_s) &&
      X509_time_adj_ex(X509_getm_notAfter(certificate.get()), lasts_days, 0, &now_s) &&
      X509_set_pubkey(certificate.get(), key.get()) == 1 && setNames(*certificate, names) &&
      X509_sign(certificate.get(), key.get(), EVP_sha256()) > 0;
  return made ? pem(*key, *certificate) : std::string();
}

}  // namespace

Result<CertificateFiles> ownCertificate(const std::string& directory,
                                        const std::vector<std::string>& names,
                                        std::int64_t now_ms) {
  const std::string file = directory + "/tls.pem";
  std::error_code ignored;  // what cannot be looked at fails when it is read
  if (!std::filesystem::exists(file, ignored)) {
    const std::string made = make(names, now_ms);
    if (made.empty()) {
      return fail(FailureKind::io, file, "no certificate could be made (" + opensslReason() + ")",
                  "give one with --certificate and --key");
    }
    const auto written = journal::writeNewDurably(file, made);
    // Refused: another server of this directory made one in the same moment.
    if (!written && written.error().kind != FailureKind::refused) {
      return tl::unexpected(written.error());
    }
  }
  return CertificateFiles{file, file};
}

}  // namespace swardwalk::server
