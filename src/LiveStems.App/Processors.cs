using System.Runtime.CompilerServices;
using LiveStems.Engine.Hosting;
using LiveStems.Processing.Catalogue;

namespace LiveStems.App;

/// <summary>The processors that this run of the program can use: the built-in ones, and those of others that the user trusts.</summary>
internal static class Processors
{
    private static readonly Lock Opening = new();
    private static ProcessorHost? host;

    /// <summary>Every processor that can be used.</summary>
    public static ProcessorCatalogue Catalogue => RuntimeFeature.IsDynamicCodeSupported ? Host.Catalogue : BuiltInProcessors.Catalogue;

    /// <summary>The processors folder as it was when it was first asked for.</summary>
    public static ProcessorHost Host
    {
        get
        {
            lock (Opening)
            {
                return host ??= ProcessorHost.Open(HostingPlaces.OfUser);
            }
        }
    }

    /// <summary>The processors folder as it has become since.</summary>
    public static void Use(ProcessorHost now)
    {
        lock (Opening)
        {
            host = now;
        }
    }

    /// <summary>Lets the folder be looked at again.</summary>
    public static void Forget()
    {
        lock (Opening)
        {
            host = null;
        }
    }
}
