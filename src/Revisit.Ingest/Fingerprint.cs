using System.Security.Cryptography;
using System.Text;

namespace Revisit.Ingest;

/// <summary>A short name for what something was made from.</summary>
internal static class Fingerprint
{
    public static string Of(IEnumerable<string> parts) =>
        Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(string.Join('\n', parts))))[..32];
}
