using System.Runtime.InteropServices;
using LiveStems.Engine.Devices.PortAudio;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

/// <summary>
/// Structures against portaudio.h of Debian 19.6.0, measured with gcc on Linux x86-64 and MinGW-w64 gcc on Windows x64. Only
/// those with a C long differ.
/// </summary>
public unsafe class PortAudioLayoutTests
{
    [Fact]
    public void StructuresHaveTheSizesOfTheHeader()
    {
        Assert.Equal(32, sizeof(StreamParameters));
        Assert.Equal(72, sizeof(DeviceInfo));
        Assert.Equal(32, sizeof(HostApiInfo));
        Assert.Equal(32, sizeof(StreamInfo));
        Assert.Equal(OperatingSystem.IsWindows() ? 16 : 24, sizeof(HostErrorInfo));
        Assert.Equal(OperatingSystem.IsWindows() ? 4 : 8, sizeof(CULong));
    }

    [Fact]
    public void FieldsLieWhereTheHeaderHasThem()
    {
        Assert.Equal(8, OffsetOf<StreamParameters>(nameof(StreamParameters.SampleFormat)));
        Assert.Equal(16, OffsetOf<StreamParameters>(nameof(StreamParameters.SuggestedLatency)));
        Assert.Equal(24, OffsetOf<StreamParameters>(nameof(StreamParameters.HostApiStreamInfo)));
        Assert.Equal(8, OffsetOf<DeviceInfo>(nameof(DeviceInfo.Name)));
        Assert.Equal(16, OffsetOf<DeviceInfo>(nameof(DeviceInfo.HostApi)));
        Assert.Equal(24, OffsetOf<DeviceInfo>(nameof(DeviceInfo.MaximumOutputChannels)));
        Assert.Equal(40, OffsetOf<DeviceInfo>(nameof(DeviceInfo.LowOutputLatency)));
        Assert.Equal(56, OffsetOf<DeviceInfo>(nameof(DeviceInfo.HighOutputLatency)));
        Assert.Equal(64, OffsetOf<DeviceInfo>(nameof(DeviceInfo.DefaultSampleRate)));
        Assert.Equal(8, OffsetOf<HostApiInfo>(nameof(HostApiInfo.Name)));
        Assert.Equal(24, OffsetOf<HostApiInfo>(nameof(HostApiInfo.DefaultOutputDevice)));
        Assert.Equal(16, OffsetOf<StreamInfo>(nameof(StreamInfo.OutputLatency)));
        Assert.Equal(24, OffsetOf<StreamInfo>(nameof(StreamInfo.SampleRate)));
    }

    private static int OffsetOf<T>(string field) => (int)Marshal.OffsetOf<T>(field);
}
