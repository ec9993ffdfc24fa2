using System.Runtime.InteropServices;

namespace LiveStems.Engine.Devices.PortAudio;

/// <summary>PaStreamParameters.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct StreamParameters
{
    internal int Device;
    internal int ChannelCount;
    internal CULong SampleFormat;
    internal double SuggestedLatency;
    internal nint HostApiStreamInfo;
}

/// <summary>PaDeviceInfo, version 2.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct DeviceInfo
{
    internal int Version;
    internal nint Name;
    internal int HostApi;
    internal int MaximumInputChannels;
    internal int MaximumOutputChannels;
    internal double LowInputLatency;
    internal double LowOutputLatency;
    internal double HighInputLatency;
    internal double HighOutputLatency;
    internal double DefaultSampleRate;
}

/// <summary>PaHostApiInfo.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct HostApiInfo
{
    internal int Version;
    internal int Type;
    internal nint Name;
    internal int DeviceCount;
    internal int DefaultInputDevice;
    internal int DefaultOutputDevice;
}

/// <summary>PaStreamInfo.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct StreamInfo
{
    internal int Version;
    internal double InputLatency;
    internal double OutputLatency;
    internal double SampleRate;
}

/// <summary>PaHostErrorInfo.</summary>
[StructLayout(LayoutKind.Sequential)]
internal struct HostErrorInfo
{
    internal int HostApiType;
    internal CLong ErrorCode;
    internal nint Text;
}
