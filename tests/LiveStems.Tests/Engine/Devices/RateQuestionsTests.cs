using LiveStems.Engine.Devices.PortAudio;
using Xunit;

namespace LiveStems.Tests.Engine.Devices;

public class RateQuestionsTests
{
    [Fact]
    public void OnlyRatesThatAreAcceptedAreListed() => Assert.Equal(
        [48_000, 96_000, 192_000],
        RateQuestions.Accepted(rate => rate % 48_000 == 0 ? PortAudioError.None : PortAudioError.InvalidSampleRate)!);

    [Fact]
    public void WhatADeviceRefusesInOtherWordsIsNotAcceptedEither() => Assert.Equal(
        [44_100],
        RateQuestions.Accepted(rate => rate == 44_100 ? PortAudioError.None : PortAudioError.UnanticipatedHostError)!);

    [Theory]
    [InlineData(PortAudioError.DeviceUnavailable)]
    [InlineData(PortAudioError.InvalidDevice)]
    public void OfADeviceInUseOrGoneNothingIsSaid(int error) => Assert.Null(RateQuestions.Accepted(_ => error));
}
